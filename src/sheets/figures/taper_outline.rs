//! The tapered outline with its half widths from the centreline at three stations.

use super::super::taper::{CHECKED_FRET, plane_to};
use super::Job;
use super::view::View;
use super::words::{near_corner, outline_with_edges, to_the_nut, zero_line_name};
use crate::design::board::layout::StationLine;
use crate::drawing::{
    Drawing, Importance, Label, Layer, Lettering, Linear, Ordinates, Pen, Row, Scaling, Side as DrawingSide, Station,
    Tip,
};
use crate::geom::Point;
use crate::model::Known;
use crate::spec::words::Side;

/// The board's end; where it is slanted, its place is that on the centreline.
fn end_name(slanted: bool) -> String {
    if slanted { "END on the centreline" } else { "END" }.to_owned()
}

/// The outline seen from above the face, wider than it is so that the taper can be seen.
///
/// # Errors
/// With the key that the scale or the edges wait for.
pub fn taper_outline(job: &Job<'_>) -> Known<Drawing> {
    let design = job.design;
    let layout = design.layout.as_ref().map_err(|missing| *missing)?;
    let outline = design.outline.as_ref().map_err(|missing| *missing)?;
    let edges = design.edges?;
    let view = View::front(job.hand());
    let description =
        "The outline of the board with half widths from the centreline at the nut, mid-board and the end.";
    let mut drawing = Drawing::new("Taper", description);
    drawing.remark = "face up".to_owned();
    drawing.scaling = Scaling::Stretched;
    outline_with_edges(&mut drawing, &view, outline);
    let binding = job.model.board.binding.mm()?;
    let square = StationLine { x: outline.squared_end, slant: 0.0 };
    if binding > 0.0 {
        // What is planed is the wood; the binding comes after.
        drawing.remark = "face up, half widths without the binding".to_owned();
        for side in Side::BOTH {
            let ends = [&square, &outline.end].map(|line| view.at(edges.on(side).meets(line, binding)));
            drawing.line(Layer::Outline, ends[0], ends[1], Pen::Thin);
        }
    }
    let checked = CHECKED_FRET.min(layout.last());
    let zero = layout.zero_line().x;
    let middle = layout.fret(checked).map_or(outline.end.x / 2.0, |line| line.x);
    let slanted = outline.end.slant != 0.0;
    // Where the zero line lies inside the board, its figures stand there and not at the squared end, which is narrower.
    let inside = zero - square.x > 1e-6;
    let stations = [
        (zero, if inside { DrawingSide::Right } else { DrawingSide::Left }, zero_line_name(job).to_owned()),
        (middle, DrawingSide::Right, format!("fret {checked}")),
        (outline.end.x, DrawingSide::Right, end_name(slanted)),
    ];
    // Half widths are square to the centreline; on a fan neither nut nor frets are, nor an end cut along the last.
    if layout.fan || slanted {
        drawing.remark.push_str(", stations square to the centreline");
        let lines = [Some(layout.zero_line()), layout.fret(checked)];
        for line in lines.into_iter().flatten() {
            let [bass, treble] = Side::BOTH.map(|side| view.at(edges.on(side).meets(&line, 0.0)));
            drawing.line(Layer::Neighbours, bass, treble, Pen::Hidden);
        }
    }
    for (index, (x, away, _)) in stations.iter().enumerate() {
        let across = |side: Side| Ok(side.toward_treble() * plane_to(job, side, *x)?);
        let ends: [f64; 2] = [across(Side::Bass)?, across(Side::Treble)?];
        let line = ends.map(|across| view.at(Point::new(*x, across)));
        if index < 2 || slanted {
            drawing.line(Layer::Slots, line[0], line[1], Pen::Thin);
        }
        for (across, edge) in ends.into_iter().zip(line) {
            let centre = view.at(Point::new(*x, 0.0));
            let dimension = Linear::outside(centre, edge, *away, job.length(across.abs()));
            // Inside the board the figures stand at their station; at the ends they stand outside.
            let row = if index == 1 || (index == 0 && inside) { Row::At(5.0) } else { Row::Outside };
            drawing.dimension(Linear { row, ..dimension }.lettering(Lettering::STRONG));
        }
    }
    if slanted {
        for side in Side::BOTH {
            let corner = edges.on(side).meets(&outline.end, binding);
            let text = format!("{} on the {} edge", job.length(corner.x - square.x), side.word());
            let label = Label::new(view.at(corner), text).tip(Tip::Arrow).toward(view.side(side));
            drawing.label(label.importance(Importance::High));
        }
    }
    let top = view.top();
    let on_edge = |x: f64| view.at(edges.on(top).meets(&StationLine { x, slant: 0.0 }, 0.0));
    let mut marks: Vec<Station> = stations
        .into_iter()
        .filter(|(x, ..)| x - square.x > 1e-6)
        .map(|(x, _, name)| Station { at: on_edge(x), text: job.length(x - square.x), name })
        .collect();
    marks.dedup();
    drawing.ordinates(Ordinates {
        datum: view.at(near_corner(outline, top)),
        datum_name: "SQUARED END".to_owned(),
        side: view.side(top),
        stations: marks,
        lettering: Lettering::NORMAL,
    });
    to_the_nut(&mut drawing);
    Ok(drawing)
}
