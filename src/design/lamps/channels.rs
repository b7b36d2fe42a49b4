//! The map of the channels routed into the back: two side channels, a cross channel for each lit fret, an end
//! channel, and the exit hole.

use crate::design::board::edges::{Edge, Edges};
use crate::design::board::face::Face;
use crate::design::board::layout::{Layout, StationLine};
use crate::design::board::markers::marked_frets;
use crate::design::board::slots::Slot;
use crate::design::formulas::{wood_to_channel, wood_under_following};
use crate::geom::{Circle, Line, Point, Segment, Strip};
use crate::model::{Channels, Known, Missing, Model};
use crate::spec::words::{Cut, PlaceAlong, Side};

/// A cross channel under a lit fret's gap.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CrossChannel {
    /// The fret whose marker it serves.
    pub fret: usize,
    /// Its line, midway between the slots.
    pub line: StationLine,
    /// From the bass to the treble side channel's centreline.
    pub strip: Strip,
    /// From inner wall to inner wall of the side channels.
    pub between_walls: Segment,
}

/// The whole map, in the back's plane but seen from the front.
#[derive(Debug, Clone, PartialEq)]
pub struct ChannelMap {
    /// The side channels, bass and treble, from the nut to the end, their own ends included.
    pub sides: [Strip; 2],
    /// Cross channels by fret.
    pub crosses: Vec<CrossChannel>,
    /// The end channel, from the bass to the treble side channel's centreline.
    pub end: Strip,
    /// The end channel's line.
    pub end_line: StationLine,
    /// The end channel from inner wall to inner wall of the side channels.
    pub end_between_walls: Segment,
    /// The exit hole in the end channel.
    pub exit: Circle,
    outer_walls: [Line; 2],
}

/// The four lines that a side channel and its crossings run on.
struct SideLines {
    outer_wall: Line,
    centre: Line,
    inner_wall: Line,
}

impl SideLines {
    fn of(edge: &Edge, margin: f64, width: f64) -> Self {
        let at = |inset: f64| edge.inset_line(inset);
        Self { outer_wall: at(margin), centre: at(margin + width / 2.0), inner_wall: at(margin + width) }
    }
}

impl ChannelMap {
    /// Lays the channels out.
    ///
    /// # Errors
    /// With the key that is open or cannot be used; with `markers.single` when no fret is lit.
    pub fn of(model: &Model, channels: &Channels, layout: &Layout, edges: &Edges) -> Known<Self> {
        let (margin, width) = (channels.margin.mm()?, channels.width.mm()?);
        let lines = Side::BOTH.map(|side| SideLines::of(&edges.on(side), margin, width));
        let across = |station: &StationLine, pick: fn(&SideLines) -> &Line| -> Known<Segment> {
            let [bass, treble] = [&lines[0], &lines[1]].map(|side| pick(side).crossing(&station.line()));
            bass.zip(treble).map(|(bass, treble)| Segment::new(bass, treble)).ok_or(Missing::faulty("channels.margin"))
        };
        let mut crosses = Vec::new();
        for (fret, _) in marked_frets(model, layout)? {
            let Some(line) = layout.gap_before(fret) else { continue };
            let strip = Strip::new(across(&line, |side| &side.centre)?, width);
            let between_walls = across(&line, |side| &side.inner_wall)?;
            crosses.push(CrossChannel { fret, line, strip, between_walls });
        }
        let first = crosses.first().ok_or(Missing::faulty("markers.single"))?;
        let end_line = exit_slot(channels, layout)?.farther(channels.exit_past.mm()?);
        let end = Strip::new(across(&end_line, |side| &side.centre)?, width);
        let side = |from: Point, to: Point, line: &Line| {
            let past = line.direction * (width / 2.0);
            Strip::new(Segment::new(from - past, to + past), width)
        };
        let (near, far) = (first.strip.centre, end.centre);
        let sides = [side(near.start, far.start, &lines[0].centre), side(near.end, far.end, &lines[1].centre)];
        let exit_across = channels.exit_y.get()?.toward_treble();
        let exit = Circle::with_diameter(Point::new(end_line.at(exit_across), exit_across), channels.exit_hole.mm()?);
        let end_between_walls = across(&end_line, |side| &side.inner_wall)?;
        let outer_walls = [lines[0].outer_wall, lines[1].outer_wall];
        Ok(Self { sides, crosses, end, end_line, end_between_walls, exit, outer_walls })
    }

    /// The side channel of a side.
    pub fn side(&self, side: Side) -> &Strip {
        &self.sides[usize::from(side == Side::Treble)]
    }

    /// The outer wall of a side channel as an endless line.
    pub fn outer_wall(&self, side: Side) -> &Line {
        &self.outer_walls[usize::from(side == Side::Treble)]
    }

    /// The cross channel of a fret.
    pub fn cross(&self, fret: usize) -> Option<&CrossChannel> {
        self.crosses.iter().find(|cross| cross.fret == fret)
    }

    /// Where the cross channels and then the end channel meet the centreline of a side channel, nut to end.
    pub fn stations(&self, side: Side) -> Vec<Point> {
        let end_of = |strip: &Strip| if side == Side::Bass { strip.centre.start } else { strip.centre.end };
        self.crosses.iter().map(|cross| end_of(&cross.strip)).chain([end_of(&self.end)]).collect()
    }

    /// Area of all channels, each place counted once.
    pub fn area(&self) -> f64 {
        let width = self.end.width;
        let sides: f64 = self.sides.iter().map(Strip::area).sum();
        let crosses: f64 = self.crosses.iter().map(|cross| cross.between_walls.length() * width).sum();
        sides + crosses + self.end_between_walls.length() * width
    }

    /// Least wood between a slot and the side channels it crosses; none if it crosses none.
    ///
    /// # Errors
    /// With the key that is open or cannot be used.
    pub fn wood_to_slot(
        &self,
        model: &Model,
        channels: &Channels,
        slot: &Slot,
        wood_under: Known<f64>,
        face: &Known<Face>,
    ) -> Known<Option<f64>> {
        let depth = channels.depth.mm()?;
        let mut least: Option<f64> = None;
        for side in Side::BOTH {
            if !self.is_crossed(side, slot) {
                continue;
            }
            let wood = match model.slots.cut.get()? {
                Cut::BeforeRadiusing | Cut::AfterRadiusing => wood_to_channel(wood_under?, depth),
                Cut::FollowingRadius => {
                    let wall = self.outer_wall(side).crossing(&slot.line.line());
                    let place = wall.ok_or(Missing::faulty("channels.margin"))?;
                    let drop = (*face)?.drop(place.x, place.y);
                    let (tang, room) = (model.wire.tang_depth.mm()?, model.slots.under_tang.mm()?);
                    wood_to_channel(wood_under_following(model.board.thickness.mm()?, drop, tang, room), depth)
                }
            };
            least = Some(least.map_or(wood, |least| least.min(wood)));
        }
        Ok(least)
    }

    /// Whether a slot runs over a side channel.
    fn is_crossed(&self, side: Side, slot: &Slot) -> bool {
        self.side(side).outline().distance_to_segment(&slot.cut) <= 0.0
    }
}

/// The slot from which the end channel is counted.
fn exit_slot(channels: &Channels, layout: &Layout) -> Known<StationLine> {
    let faulty = Missing::faulty("channels.exit_from");
    match channels.exit_from.get()? {
        PlaceAlong::LastFret => Ok(layout.last_line()),
        PlaceAlong::Fret(number) => usize::try_from(number).ok().and_then(|number| layout.fret(number)).ok_or(faulty),
        _ => Err(faulty),
    }
}
