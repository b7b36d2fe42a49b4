//! What the drawings of the board share: stations worth a figure, names, notes, figures with their edges named.

use super::Job;
use super::view::{View, edge_name};
use crate::design::board::layout::Layout;
use crate::design::board::outline::Outline;
use crate::drawing::{self, Align, Drawing, Importance, Layer, Lettering, LineName, Note, Pen};
use crate::geom::Point as Place;
use crate::spec::words::{NutAt, Side};

/// The frets whose distances stand on a drawing: enough to catch a slip, few enough to read.
///
/// The table carries all; the drawing shows the ones a builder looks for first. Common practice, no source.
pub(super) fn dimensioned_frets(last: usize) -> Vec<usize> {
    let mut frets: Vec<usize> =
        [1, 3, 5, 7, 9, 12, 15, 17, 19, 21, 24, 27, 30, 33, 36].into_iter().filter(|fret| *fret < last).collect();
    frets.push(last);
    frets
}

/// What stands at the zero line, as a name on a drawing.
pub(in crate::sheets) fn zero_line_name(job: &Job<'_>) -> &'static str {
    match job.model.frets.nut_at.get() {
        Ok(NutAt::ZeroFret) => "ZERO FRET",
        _ => "NUT",
    }
}

/// The squared end's name; where it is the nut too, it says so.
pub(in crate::sheets) fn squared_end_name(job: &Job<'_>, layout: &Layout, outline: &Outline) -> String {
    let one_with_nut = (layout.zero_line().x - outline.squared_end).abs() < 1e-6;
    if one_with_nut { format!("SQUARED END, {}", zero_line_name(job)) } else { "SQUARED END".to_owned() }
}

/// Draws the outline with its axis and names both edges.
pub(super) fn outline_with_edges(drawing: &mut Drawing, view: &View, outline: &Outline) {
    drawing.polygon(Layer::Outline, &view.polygon(&outline.area), Pen::Visible);
    let (near, far) = (Place::new(outline.squared_end, 0.0), Place::new(outline.end.x, 0.0));
    drawing.centre_line(view.at(near), view.at(far));
    for (side, corner) in Side::BOTH.into_iter().zip(outline.end_corners) {
        let near = near_corner(outline, side);
        drawing.name_line(LineName {
            from: view.at(near),
            to: view.at(corner),
            side: view.side(side),
            text: edge_name(side).to_owned(),
            lettering: Lettering::STRONG,
            importance: Importance::Utmost,
        });
    }
}

/// The corner of the squared end on a side.
pub(super) fn near_corner(outline: &Outline, side: Side) -> Place {
    let sign = side.toward_treble();
    outline
        .area
        .corners()
        .iter()
        .copied()
        .filter(|corner| (corner.x - outline.squared_end).abs() < 1e-9)
        .max_by(|one, two| (one.y * sign).total_cmp(&(two.y * sign)))
        .unwrap_or(Place::new(outline.squared_end, 0.0))
}

/// The note with an arrow that says where the nut is.
pub(super) fn to_the_nut(drawing: &mut Drawing) {
    drawing.note(Note {
        side: drawing::Side::Bottom,
        align: Align::Start,
        text: "TO THE NUT".to_owned(),
        lettering: Lettering::STRONG,
        arrow: Some(drawing::Side::Left),
        importance: Importance::Utmost,
    });
}

/// A note in the margin over the view.
pub(super) fn note_above(drawing: &mut Drawing, align: Align, text: &str, lettering: Lettering) {
    drawing.note(Note {
        side: drawing::Side::Top,
        align,
        text: text.to_owned(),
        lettering,
        arrow: None,
        importance: Importance::Utmost,
    });
}
