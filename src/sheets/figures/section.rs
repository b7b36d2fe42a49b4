//! What all sections across the board share: the two faces, the rod, heights over the back, names of the sides.

use super::Job;
use super::view::{Section, side_name};
use crate::design::board::edges::Edges;
use crate::design::board::face::Face;
use crate::design::board::layout::StationLine;
use crate::drawing::{
    Align, Drawing, Importance, Label, Layer, Lettering, LineName, Linear, Note, Pen, Round, Side as DrawingSide, Tip,
    outline,
};
use crate::geom::Point;
use crate::model::Known;
use crate::spec::words::{Cut, Side};

/// Straight pieces a curved face is drawn in.
const PIECES: u32 = 48;

/// The board cut along a line across.
pub(super) struct Slice {
    pub(super) station: StationLine,
    pub(super) surface: Face,
    halves: [f64; 2],
    /// Finished thickness on the centreline.
    pub(super) thickness: f64,
    /// Height of the flat face before radiusing.
    pub(super) flat_face: f64,
}

impl Slice {
    pub(super) fn at(job: &Job<'_>, station: StationLine) -> Known<Self> {
        let edges: Edges = job.design.edges?;
        let thickness = job.model.board.thickness.mm()?;
        Ok(Self {
            station,
            surface: job.design.face?,
            halves: Side::BOTH.map(|side| edges.on(side).meets(&station, 0.0).y.abs()),
            thickness,
            flat_face: thickness + job.model.slots.skim.mm()?,
        })
    }

    /// The same cut through the blank, whose edges run along the centreline. Where the face would run out at the back
    /// before the edge, the wood ends there.
    pub(super) fn through_blank(self, width: f64) -> Self {
        let runs_out = self.surface.reach(self.station.x, self.thickness);
        Self { halves: [(width / 2.0).min(runs_out); 2], ..self }
    }

    /// Distance of an edge from the centreline.
    pub(super) fn half(&self, side: Side) -> f64 {
        self.halves[usize::from(side == Side::Treble)]
    }

    /// How far the finished face lies under its top at a place across.
    pub(super) fn drop(&self, across: f64) -> f64 {
        self.surface.drop(self.station.at(across), across)
    }

    /// Height of the finished face over the back.
    pub(super) fn face(&self, across: f64) -> f64 {
        self.thickness - self.drop(across)
    }

    pub(super) fn is_flat(&self) -> bool {
        self.surface.is_flat()
    }

    /// Places from one across to another, close enough to draw a curve.
    pub(super) fn steps(&self, from: f64, to: f64) -> impl Iterator<Item = f64> + use<> {
        let count = if self.is_flat() { 1 } else { PIECES };
        (0..=count).map(move |step| from + (to - from) * f64::from(step) / f64::from(count))
    }

    /// The finished face as places across and heights.
    pub(super) fn face_between(&self, from: f64, to: f64) -> Vec<(f64, f64)> {
        self.steps(from, to).map(|across| (across, self.face(across))).collect()
    }

    /// Draws the finished face with the edges down to the back, and the flat face where it differs.
    pub(super) fn faces(&self, job: &Job<'_>, drawing: &mut Drawing, section: &Section) {
        let (bass, treble) = (-self.half(Side::Bass), self.half(Side::Treble));
        let mut points = vec![section.at(bass, 0.0)];
        points.extend(self.face_between(bass, treble).into_iter().map(|(across, height)| section.at(across, height)));
        points.push(section.at(treble, 0.0));
        drawing.path(Layer::Outline, outline::polyline(&points), Pen::Visible);
        let differs = !self.is_flat() || self.flat_face - self.thickness > 1e-6;
        if differs {
            let ends = [section.at(bass, self.flat_face), section.at(treble, self.flat_face)];
            drawing.line(Layer::Hidden, ends[0], ends[1], Pen::Neighbour);
            let at = section.at(0.42 * self.half(section.right()) * section.right().toward_treble(), self.flat_face);
            drawing.label(
                Label::new(at, flat_face_name(job))
                    .tip(Tip::Arrow)
                    .toward(DrawingSide::Top)
                    .importance(Importance::High),
            );
        }
        let across = 0.42 * self.half(section.left()) * section.left().toward_treble();
        let (place, radius) = (section.at(across, self.face(across)), self.surface.radius(self.station.x));
        let name = if radius.is_finite() { "finished face" } else { "finished face, flat" };
        drawing.label(Label::new(place, name).tip(Tip::Arrow).toward(DrawingSide::Top).importance(Importance::High));
    }

    /// The rod's slot in the neck under the board, where it lies at this place.
    pub(super) fn rod(&self, job: &Job<'_>, drawing: &mut Drawing, section: &Section) {
        let (Ok(Some(rod)), Some(neck)) = (&job.design.rod, &job.model.neck) else { return };
        let under = Point::new(self.station.x, 0.0);
        if !rod.contains(under) {
            return;
        }
        let (Some(Ok(width)), Some(Ok(depth))) =
            (neck.rod_width.as_ref().map(|width| width.mm()), neck.rod_depth.as_ref().map(|depth| depth.mm()))
        else {
            return;
        };
        let corners = [
            section.at(-width / 2.0, 0.0),
            section.at(-width / 2.0, -depth),
            section.at(width / 2.0, -depth),
            section.at(width / 2.0, 0.0),
        ];
        drawing.path(Layer::Neighbours, outline::polyline(&corners), Pen::Hidden);
        let at = section.at(0.3 * width * section.right().toward_treble(), -depth * 0.7);
        drawing.label(Label::new(at, "rod, in the neck"));
    }

    /// Height of the finished edge on a side, and thickness on the centreline, at the right.
    pub(super) fn height_dimensions(&self, job: &Job<'_>, drawing: &mut Drawing, section: &Section, side: Side) {
        let across = side.toward_treble() * self.half(side);
        let edge = self.face(across);
        if !self.is_flat() {
            let ends = [section.at(across, 0.0), section.at(across, edge)];
            drawing.dimension(Linear::outside(ends[0], ends[1], section.row(side), job.length(edge)));
        }
        // The thickness holds on the centreline, where the face is highest.
        let across = section.right().toward_treble() * self.half(section.right());
        let foot = section.at(across, 0.0);
        let top = section.at(across, self.thickness);
        drawing.dimension(Linear::outside(foot, top, DrawingSide::Right, job.length(self.thickness)));
    }

    /// The radius of the face, if it has one.
    pub(super) fn radius(&self, job: &Job<'_>, drawing: &mut Drawing, section: &Section) {
        let radius = self.surface.radius(self.station.x);
        if radius.is_finite() {
            let way = kurbo::Vec2::new(-0.25 * self.half(section.left()) / radius, 1.0);
            drawing.round(Round {
                centre: section.at(0.0, self.thickness - radius),
                radius,
                toward: vec![way],
                text: format!("R {}", job.length(radius)),
                lettering: Lettering::NORMAL,
                importance: Importance::High,
            });
        }
    }
}

/// The flat face's name: what was done on it.
fn flat_face_name(job: &Job<'_>) -> &'static str {
    match job.model.slots.cut.get() {
        Ok(Cut::AfterRadiusing | Cut::FollowingRadius) => "flat face, before radiusing",
        _ => "flat face, as slotted",
    }
}

/// The width between two places across.
pub(super) fn across_dimension(job: &Job<'_>, section: &Section, from: f64, to: f64) -> Linear {
    let text = job.length((to - from).abs());
    Linear::outside(section.at(from, 0.0), section.at(to, 0.0), DrawingSide::Bottom, text)
}

/// The centreline, the names of the sides and of the back.
pub(super) fn finish_section(drawing: &mut Drawing, section: &Section, slice: &Slice) {
    drawing.centre_line(section.at(0.0, 0.0), section.at(0.0, slice.flat_face));
    name_sides(drawing, section);
    let side = section.right();
    let reach = side.toward_treble() * slice.half(side);
    drawing.name_line(LineName {
        from: section.at(0.12 * reach, 0.0),
        to: section.at(0.75 * reach, 0.0),
        side: DrawingSide::Bottom,
        text: "BACK, datum of heights".to_owned(),
        lettering: Lettering::STRONG,
        importance: Importance::Utmost,
    });
}

/// The names of the sides over the ends of a section.
pub(super) fn name_sides(drawing: &mut Drawing, section: &Section) {
    for (side, align) in [(section.left(), Align::Start), (section.right(), Align::End)] {
        drawing.note(Note {
            side: DrawingSide::Top,
            align,
            text: side_name(side).to_owned(),
            lettering: Lettering::STRONG,
            arrow: None,
            importance: Importance::Utmost,
        });
    }
}
