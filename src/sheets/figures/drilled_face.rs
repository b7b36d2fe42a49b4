//! The face of the board for the drill: holes with their numbers and their distances from the squared end.

use super::Job;
use super::board_front::slots;
use super::view::View;
use super::words::{outline_with_edges, squared_end_name, to_the_nut};
use crate::drawing::{
    Align, Drawing, Importance, Label, Layer, Lettering, NameRow, Note, Ordinates, Pen, Scaling, Station,
};
use crate::geom::Point;
use crate::model::Known;
use crate::spec::words::Side;

/// A hole of the board as it is drawn.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(in crate::sheets) struct Bored {
    /// Its number in the chart.
    pub(in crate::sheets) number: usize,
    /// Its middle; on the edge for a hole in the edge.
    pub(in crate::sheets) place: Point,
    /// Its diameter, where it is known.
    pub(in crate::sheets) diameter: Option<f64>,
    /// In the edge, not in the face.
    pub(in crate::sheets) in_edge: bool,
}

/// Radius of the mark of a hole in the edge, on paper.
const MARK: f64 = 0.6;

/// The face, seen from above, the nut at the left; frets are lines without figures, so that each number is a hole's.
///
/// # Errors
/// With the key that the scale, the squared end or the edges wait for.
pub(in crate::sheets) fn drilled_face(job: &Job<'_>, holes: &[Bored]) -> Known<Drawing> {
    let design = job.design;
    let layout = design.layout.as_ref().map_err(|missing| *missing)?;
    let outline = design.outline.as_ref().map_err(|missing| *missing)?;
    let edges = design.edges?;
    let view = View::front(job.hand());
    let description = "The face of the board, nut at the left: each hole with its number and its distance from the \
                       squared end.";
    let mut drawing = Drawing::new("Holes of the board", description);
    drawing.remark = "seen from above; all numbers are holes, lines between them frets".to_owned();
    drawing.scaling = Scaling::Width;
    outline_with_edges(&mut drawing, &view, outline);
    slots(job, &mut drawing, &view)?;

    let on_edge = |x: f64| Point::new(x, edges.on(Side::Treble).half(x));
    let mut stations: Vec<Station> = Vec::new();
    for hole in holes.iter().filter(|hole| !hole.in_edge) {
        let at = view.at(hole.place);
        drawing.circle(Layer::Holes, at, hole.diameter.unwrap_or(0.0) / 2.0, Pen::Visible);
        let number = Label::new(at, hole.number.to_string()).clear_of(hole.diameter.unwrap_or(0.0) / 2.0);
        drawing.label(number.importance(Importance::Utmost).lettering(Lettering::SMALL));
        let top = view.at(on_edge(hole.place.x));
        drawing.line(Layer::Centre, at, top, Pen::Centre);
        let text = job.length(hole.place.x - outline.squared_end);
        match stations.iter_mut().find(|station| station.text == text) {
            Some(same) => same.name = format!("{}, {}", same.name, hole.number),
            None => stations.push(Station { at: top, text, name: hole.number.to_string() }),
        }
    }
    drawing.ordinates(Ordinates {
        datum: view.at(on_edge(outline.squared_end)),
        datum_name: squared_end_name(job, layout, outline),
        side: view.side(Side::Treble),
        stations,
        lettering: Lettering::NORMAL,
    });
    in_edge(&mut drawing, &view, holes);
    to_the_nut(&mut drawing);
    Ok(drawing)
}

/// Marks and numbers of the dots along the bass edge.
fn in_edge(drawing: &mut Drawing, view: &View, holes: &[Bored]) {
    let dots = || holes.iter().filter(|hole| hole.in_edge);
    if dots().next().is_none() {
        return;
    }
    for dot in dots() {
        drawing.dot(Layer::Holes, view.at(dot.place), MARK);
    }
    let side = view.side(Side::Bass);
    let names = dots().map(|dot| (view.at(dot.place), dot.number.to_string())).collect();
    drawing.name_row(NameRow { side, names, lettering: Lettering::STRONG });
    drawing.note(Note {
        side,
        align: Align::End,
        text: "in the edge: side dots".to_owned(),
        lettering: Lettering::NORMAL,
        arrow: None,
        importance: Importance::High,
    });
}
