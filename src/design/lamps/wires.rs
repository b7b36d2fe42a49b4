//! The hook-up wires, group by group: which channels each runs through, and how much wire that takes.
//!
//! Method: each group's feed comes from the exit along the end channel to the bass side, up the bass side channel
//! to the group's first cross channel, crosses it through its lamps, goes along the treble side to the next,
//! crosses back, and so on. A group that ends on the bass side crosses back once on its last cross channel. One
//! common return lies in the treble side channel from the first group's last cross channel to the exit.

use super::channels::ChannelMap;
use crate::geom::{Point, Segment};
use crate::spec::words::Side;

/// One group's way.
#[derive(Debug, Clone, PartialEq)]
pub struct GroupWires {
    /// The lamps in the order of the current, + to −, by number.
    pub lamps: Vec<usize>,
    /// The cross channels it runs through, in order, by their index in the map.
    pub crossings: Vec<usize>,
    /// Whether it crosses back on its last cross channel without a lamp.
    pub crosses_back: bool,
    /// Wire from the exit to where it joins the return, along the channels' centrelines.
    pub length: f64,
}

/// All wires in the board.
#[derive(Debug, Clone, PartialEq)]
pub struct Wires {
    /// Group by group.
    pub groups: Vec<GroupWires>,
    /// Length of the common return.
    pub return_length: f64,
    /// Most wires side by side in the bass and in the treble side channel.
    pub in_sides: [usize; 2],
    /// Wires in each cross channel, by its index in the map.
    pub in_crosses: Vec<usize>,
    /// Most wires side by side in the end channel.
    pub in_end: usize,
}

/// A lamp as the wires see it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct WiredLamp {
    /// Its number.
    pub number: usize,
    /// The fret it marks.
    pub fret: usize,
    /// The side it lies on; none on the centreline.
    pub side: Option<Side>,
}

/// Runs the wires of `lamps`, in lamp order, `in_series` to a group.
pub fn run(map: &ChannelMap, lamps: &[WiredLamp], in_series: usize) -> Wires {
    let stations = Side::BOTH.map(|side| map.stations(side));
    let end = map.crosses.len();
    let groups: Vec<GroupWires> =
        lamps.chunks(in_series.max(1)).map(|group| group_way(map, &stations, group)).collect();
    let mut in_intervals = [vec![0_usize; end], vec![0_usize; end]];
    let mut in_crosses = vec![0_usize; end];
    for group in &groups {
        let Some(first) = group.crossings.first() else { continue };
        in_intervals[0][*first..end].iter_mut().for_each(|count| *count += 1);
        for (step, pair) in group.crossings.windows(2).enumerate() {
            // After the first crossing the wire is on the treble side, after the second on the bass side.
            let side = usize::from(step % 2 == 0);
            in_intervals[side][pair[0]..pair[1]].iter_mut().for_each(|count| *count += 1);
        }
        group.crossings.iter().for_each(|cross| in_crosses[*cross] += 1);
        if group.crosses_back {
            group.crossings.last().iter().for_each(|cross| in_crosses[**cross] += 1);
        }
    }
    let joins = groups.first().and_then(|group| group.crossings.last().copied());
    let return_length = joins.map_or(0.0, |cross| {
        in_intervals[1][cross..end].iter_mut().for_each(|count| *count += 1);
        distance(stations[1][cross], stations[1][end]) + distance(stations[1][end], map.exit.centre)
    });
    let most = |counts: &[usize]| counts.iter().copied().max().unwrap_or(0);
    let in_sides = [most(&in_intervals[0]), most(&in_intervals[1])];
    let in_end = groups.len().max(usize::from(joins.is_some()));
    Wires { groups, return_length, in_sides, in_crosses, in_end }
}

impl Wires {
    /// All wire that lies in the channels.
    pub fn length(&self) -> f64 {
        self.groups.iter().map(|group| group.length).sum::<f64>() + self.return_length
    }

    /// Wires through the exit hole: a feed for each group and the return.
    pub fn through_exit(&self) -> usize {
        self.groups.len() + 1
    }
}

/// The order of a group: the frets whose cross channels it runs through, and its lamps in the order of the current.
///
/// A wire that comes from the treble side meets the treble lamp of a pair first. No place is needed for this, so
/// the order is known before any channel is.
fn order(group: &[WiredLamp]) -> (Vec<usize>, Vec<usize>) {
    let mut frets: Vec<usize> = Vec::new();
    let mut lamps = Vec::new();
    for fret in group.iter().map(|lamp| lamp.fret) {
        if frets.last() == Some(&fret) {
            continue;
        }
        let mut here: Vec<&WiredLamp> = group.iter().filter(|lamp| lamp.fret == fret).collect();
        if frets.len() % 2 == 1 {
            here.reverse();
        }
        lamps.extend(here.iter().map(|lamp| lamp.number));
        frets.push(fret);
    }
    (frets, lamps)
}

/// The lamps of each group in the order of the current, + to −, by number.
pub fn orders(lamps: &[WiredLamp], in_series: usize) -> Vec<Vec<usize>> {
    lamps.chunks(in_series.max(1)).map(|group| order(group).1).collect()
}

fn group_way(map: &ChannelMap, stations: &[Vec<Point>; 2], group: &[WiredLamp]) -> GroupWires {
    let (frets, lamps) = order(group);
    let cross_of = |fret: &usize| map.crosses.iter().position(|cross| cross.fret == *fret);
    let crossings: Vec<usize> = frets.iter().filter_map(cross_of).collect();
    let end = map.crosses.len();
    let across = |cross: usize| map.crosses[cross].strip.centre.length();
    let mut length = 0.0;
    if let Some(first) = crossings.first() {
        length += distance(map.exit.centre, stations[0][end]) + distance(stations[0][end], stations[0][*first]);
    }
    for (step, cross) in crossings.iter().enumerate() {
        length += across(*cross);
        if let Some(next) = crossings.get(step + 1) {
            let side = usize::from(step % 2 == 0);
            length += distance(stations[side][*cross], stations[side][*next]);
        }
    }
    let crosses_back = !crossings.is_empty() && crossings.len().is_multiple_of(2);
    if crosses_back {
        length += crossings.last().map_or(0.0, |cross| across(*cross));
    }
    GroupWires { lamps, crossings, crosses_back, length }
}

fn distance(a: Point, b: Point) -> f64 {
    Segment::new(a, b).length()
}
