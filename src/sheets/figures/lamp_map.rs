//! The lamps and their wires as they lie in the back: feeds, each group's way from lamp to lamp, the return.

use kurbo::Vec2;

use super::Job;
use super::board_back::channels;
use super::view::View;
use super::words::{note_above, outline_with_edges, to_the_nut};
use crate::design::lamps::channels::ChannelMap;
use crate::design::lamps::wires::GroupWires;
use crate::drawing::{
    Align, Drawing, Importance, Label, Layer, Lettering, NameRow, Pen, Scaling, Side as DrawingSide, outline,
};
use crate::geom::Point;
use crate::model::{Known, Missing};

use crate::spec::words::Side;

/// From a lamp's rim to the middle of its +, on paper: beside the channel, and on past the rim.
const BESIDE: f64 = 2.6;
const PAST_RIM: f64 = 1.5;
/// Arm of the +, on paper.
const ARM: f64 = 1.2;
/// The next channel is near where it leaves less than this share of the room on the other side.
const LEAST_SHARE: f64 = 0.5;

/// The map of the wires, seen on the back, wider than it is so that the ways can be told apart.
///
/// # Errors
/// With the key that the outline, the channels or the lamps wait for; `lamp.pattern` when the board is not lit.
pub fn lamp_map(job: &Job<'_>) -> Known<Drawing> {
    let lamps = job.design.lamps.as_ref().ok_or(Missing::faulty("lamp.pattern"))?;
    let outline = job.design.outline.as_ref().map_err(|missing| *missing)?;
    let map = lamps.map.as_ref().map_err(|missing| *missing)?;
    let wires = lamps.wires.as_ref().map_err(|missing| *missing)?;
    let view = View::back(job.hand());
    let bass = match view.side(Side::Bass) {
        DrawingSide::Top => "the bass edge is at the TOP of this page",
        _ => "the bass edge is at the BOTTOM of this page",
    };
    let description = format!(
        "The wires as they lie in the channels of the back; {bass}. Each group's way runs from its first lamp to its last."
    );
    let mut drawing = Drawing::new("BACK: the wires, group by group", description);
    drawing.scaling = Scaling::Stretched;
    note_above(&mut drawing, Align::Start, "BACK", Lettering::LARGE);
    note_above(&mut drawing, Align::End, bass, Lettering::STRONG);
    outline_with_edges(&mut drawing, &view, outline);
    channels(map, &mut drawing, &view);
    let ways = Ways { map, view, quarter: map.end.width / 4.0 };
    ways.lamp_holes(job, &mut drawing);
    ways.plus_sides(job, &mut drawing, &wires.groups);
    ways.feeds(&mut drawing, &wires.groups);
    ways.common_return(&mut drawing, &wires.groups);
    let names =
        wires.groups.iter().enumerate().filter_map(|(index, group)| ways.group(&mut drawing, index, group)).collect();
    drawing.name_row(NameRow { side: view.side(Side::Bass), names, lettering: Lettering::NORMAL });
    drawing.circle(Layer::Hidden, view.at(map.exit.centre), map.exit.radius, Pen::Hidden);
    drawing.label(
        Label::new(view.at(map.exit.centre), format!("exit, {} wires", wires.through_exit()))
            .clear_of(map.exit.radius)
            .toward(DrawingSide::Right)
            .importance(Importance::High),
    );
    to_the_nut(&mut drawing);
    Ok(drawing)
}

/// The wires' ways; in a side channel feeds and return lie in its outer half, a group's own links in its inner half.
struct Ways<'a> {
    map: &'a ChannelMap,
    view: View,
    quarter: f64,
}

impl Ways<'_> {
    /// Where a cross channel (or, past the last, the end channel) meets a side channel, moved off its centreline
    /// toward the board's edge.
    fn corner(&self, side: Side, station: usize, outward: f64) -> Point {
        let places = self.map.stations(side);
        let place = places.get(station).or(places.last()).copied().unwrap_or(self.map.exit.centre);
        Point::new(place.x, place.y + side.toward_treble() * outward)
    }

    fn draw(&self, drawing: &mut Drawing, places: &[Point], pen: Pen) {
        let points: Vec<_> = places.iter().map(|place| self.view.at(*place)).collect();
        drawing.path(Layer::Pockets, outline::polyline(&points), pen);
    }

    fn lamp_holes(&self, job: &Job<'_>, drawing: &mut Drawing) {
        let (Some(lamp), Ok(markers)) = (&job.model.lamp, &job.design.markers) else { return };
        for marker in markers {
            let (Ok(middle), Ok(counterbore)) = (marker.middle, lamp.counterbore.mm()) else { continue };
            drawing.circle(Layer::Holes, self.view.at(middle), counterbore / 2.0, Pen::Thin);
            let cross = self.map.crosses.iter().position(|cross| cross.fret == marker.fret);
            let side = cross.map_or(DrawingSide::Right, |cross| self.roomier(cross));
            let label = Label::new(self.view.at(middle), marker.number.to_string()).clear_of(counterbore / 2.0);
            drawing.label(label.toward(side).importance(Importance::Utmost).lettering(Lettering::STRONG));
        }
    }

    /// A + on the side of each lamp that the current comes from: its − lies on the other.
    fn plus_sides(&self, job: &Job<'_>, drawing: &mut Drawing, groups: &[GroupWires]) {
        let (Some(lamp), Ok(markers)) = (&job.model.lamp, &job.design.markers) else { return };
        let Ok(counterbore) = lamp.counterbore.mm() else { return };
        for group in groups {
            let mut from = Side::Bass;
            for cross in &group.crossings {
                let fret = self.map.crosses.get(*cross).map(|cross| cross.fret);
                let own = |number: &usize| group.lamps.contains(number);
                let here = markers.iter().filter(|marker| Some(marker.fret) == fret && own(&marker.number));
                for middle in here.filter_map(|marker| marker.middle.ok()) {
                    let rim = Point::new(middle.x, middle.y + from.toward_treble() * counterbore / 2.0);
                    let along = if self.roomier(*cross) == DrawingSide::Right { BESIDE } else { -BESIDE };
                    let off = Vec2::new(along, 0.0) + self.view.side(from).outward() * PAST_RIM;
                    drawing.plus(Layer::Text, self.view.at(rim), off, ARM);
                }
                from = if from == Side::Bass { Side::Treble } else { Side::Bass };
            }
        }
    }

    /// The side of a cross channel on which a lamp's number and + stand: the saddle's, unless the next channel is near.
    fn roomier(&self, cross: usize) -> DrawingSide {
        let crosses = &self.map.crosses;
        let at = |index: usize| crosses.get(index).map_or(self.map.end_line.x, |cross| cross.line.x);
        let before = cross.checked_sub(1).map_or(0.0, at);
        let (left, right) = (at(cross) - before, at(cross + 1) - at(cross));
        if right < LEAST_SHARE * left { DrawingSide::Left } else { DrawingSide::Right }
    }

    /// All feeds as one bundle, from the exit to the first group's first cross channel.
    fn feeds(&self, drawing: &mut Drawing, groups: &[GroupWires]) {
        let Some(first) = groups.iter().filter_map(|group| group.crossings.first()).min() else { return };
        let end = self.map.crosses.len();
        let ways = [
            self.map.exit.centre,
            self.corner(Side::Bass, end, self.quarter),
            self.corner(Side::Bass, *first, self.quarter),
        ];
        self.draw(drawing, &ways, Pen::Thin);
    }

    /// The return, from the first group's last cross channel to the exit.
    fn common_return(&self, drawing: &mut Drawing, groups: &[GroupWires]) {
        let Some(last) = groups.first().and_then(|group| group.crossings.last()) else { return };
        let end = self.map.crosses.len();
        let corner = |station: usize| self.corner(Side::Treble, station, self.quarter);
        self.draw(drawing, &[corner(*last), corner(end), self.map.exit.centre], Pen::Hidden);
        let middle = self.view.at(corner(*last).midpoint(corner(end)));
        let side = self.view.side(Side::Treble);
        drawing.label(Label::new(middle, "common return, −").toward(side));
    }

    /// Draws one group's way from its feed across its lamps to the return; where it starts, and its name.
    fn group(&self, drawing: &mut Drawing, index: usize, group: &GroupWires) -> Option<(Point, String)> {
        let first = group.crossings.first()?;
        let mut side = Side::Bass;
        let mut ways = vec![self.corner(Side::Bass, *first, self.quarter)];
        for (step, cross) in group.crossings.iter().enumerate() {
            if step > 0 {
                ways.push(self.corner(side, *cross, -self.quarter));
            }
            side = if side == Side::Bass { Side::Treble } else { Side::Bass };
            ways.push(self.corner(side, *cross, -self.quarter));
        }
        if let (true, Some(last)) = (group.crosses_back, group.crossings.last()) {
            // It lies beside the wire that brought the current over.
            let beside = |place: Point| Point::new(place.x + self.quarter, place.y);
            ways.push(beside(self.corner(side, *last, -self.quarter)));
            ways.push(beside(self.corner(Side::Treble, *last, self.quarter)));
        } else if let Some(last) = group.crossings.last() {
            ways.push(self.corner(Side::Treble, *last, self.quarter));
        }
        self.draw(drawing, &ways, Pen::Visible);
        let start = self.view.at(self.corner(Side::Bass, *first, self.quarter));
        drawing.dot(Layer::Pockets, start, 0.8);
        let lamps: Vec<String> = group.lamps.iter().map(usize::to_string).collect();
        Some((start, format!("{}: + {} −", index + 1, lamps.join(", "))))
    }
}
