//! The scale laid out: every fret as a line across, from the zero line to the saddle.
//!
//! In: scale, divisions, number of frets, on a fan the spreads of the strings. Out: lines x = a + m·y.
//! Method: equal temperament along each outer string; a straight fret joins equal shares of both.

use crate::design::formulas::{
    place_on_run, run_along_centreline, share_of_scale, sounding_length, start_of_bass_string, true_band,
};
use crate::geom::Line;
use crate::model::{Known, Missing, Model, ScaleLength};
use crate::spec::words::{Measured, Side};

/// Frets beyond this are not laid out: a count that large is a slip of the pen and a finding says so.
const MOST_FRETS: u32 = 200;

/// A line across the board: a fret, the zero line, the saddle, the middle of a gap.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct StationLine {
    /// Where it crosses the centreline.
    pub x: f64,
    /// How much farther it lies from the nut for each millimetre toward the treble side.
    pub slant: f64,
}

/// An outer string as it runs from the zero line to the saddle.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct StringRun {
    /// Where it starts, along the centreline.
    pub start: f64,
    /// Its run along the centreline.
    pub run: f64,
}

/// The spreads of the outer strings' centres, square to the centreline.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Spreads {
    /// At the nut.
    pub nut: f64,
    /// At the saddle.
    pub saddle: f64,
}

/// The scale laid out.
#[derive(Debug, Clone, PartialEq)]
pub struct Layout {
    /// Scale along the centreline: one scale, or the mean of the two runs.
    pub scale: f64,
    /// Equal steps to the octave.
    pub divisions: u32,
    /// Whether the frets fan out.
    pub fan: bool,
    /// The bass string's run.
    pub bass: StringRun,
    /// The treble string's run.
    pub treble: StringRun,
    lines: Vec<StationLine>,
    saddle: StationLine,
}

impl StationLine {
    /// The line's place at a distance toward the treble side.
    pub fn at(&self, across: f64) -> f64 {
        self.x + self.slant * across
    }

    /// Its angle, plus when the treble end lies farther from the nut.
    pub fn angle(&self) -> f64 {
        libm::atan(self.slant)
    }

    /// The endless line, its direction toward the treble side.
    pub fn line(&self) -> Line {
        Line::across(self.x, self.slant)
    }

    /// The line midway between two others at every place across.
    #[must_use]
    pub fn midway(&self, other: &Self) -> Self {
        Self { x: f64::midpoint(self.x, other.x), slant: f64::midpoint(self.slant, other.slant) }
    }

    /// The parallel line this much farther along the centreline.
    #[must_use]
    pub fn farther(&self, along: f64) -> Self {
        Self { x: self.x + along, slant: self.slant }
    }
}

impl Layout {
    /// Lays the scale out.
    ///
    /// # Errors
    /// With the key that is open or cannot be used.
    pub fn of(model: &Model) -> Known<Self> {
        let count = model.frets.count.get()?;
        if count == 0 || count > MOST_FRETS {
            return Err(Missing::faulty("frets.count"));
        }
        let divisions = model.scale.divisions.get()?;
        if divisions == 0 || divisions > MOST_FRETS {
            return Err(Missing::faulty("scale.divisions"));
        }
        match &model.scale.length {
            ScaleLength::One(length) => Ok(Self::straight(length.mm()?, (count, divisions))),
            ScaleLength::Fan { bass, treble, square_fret } => {
                let spreads = Spreads::of(model)?;
                let widening = (spreads.saddle - spreads.nut) / 2.0;
                let along = |scale: f64| -> Known<f64> {
                    Ok(match model.scale.measured.get()? {
                        Measured::AlongString => run_along_centreline(scale, widening),
                        Measured::AlongCentreline => scale,
                    })
                };
                let runs = (along(bass.mm()?)?, along(treble.mm()?)?);
                if !(runs.0.is_finite() && runs.1.is_finite()) {
                    return Err(Missing::faulty("strings.spread_saddle"));
                }
                Ok(Self::fanned(runs, spreads, square_fret.get()?, (count, divisions)))
            }
        }
    }

    /// A fan from the runs of its outer strings, bass and treble, with the fret that stands square.
    fn fanned(
        (run_bass, run_treble): (f64, f64),
        spreads: Spreads,
        square_fret: u32,
        (count, divisions): (u32, u32),
    ) -> Self {
        let share = |fret: u32| share_of_scale(f64::from(fret), f64::from(divisions));
        let start = start_of_bass_string(share(square_fret), run_bass, run_treble);
        let (bass, treble) = (StringRun { start, run: run_bass }, StringRun { start: -start, run: run_treble });
        let line = |share: f64| {
            let (x_bass, x_treble) = (bass.at(share), treble.at(share));
            let half_spread = spreads.at(share) / 2.0;
            StationLine { x: f64::midpoint(x_bass, x_treble), slant: (x_treble - x_bass) / (2.0 * half_spread) }
        };
        let lines = (0..=count).map(|fret| line(share(fret))).collect();
        let scale = f64::midpoint(run_bass, run_treble);
        Self { scale, divisions, fan: true, bass, treble, lines, saddle: line(1.0) }
    }

    /// A straight scale.
    fn straight(scale: f64, (count, divisions): (u32, u32)) -> Self {
        let run = StringRun { start: 0.0, run: scale };
        let line = |share: f64| StationLine { x: place_on_run(0.0, share, scale), slant: 0.0 };
        let lines = (0..=count).map(|fret| line(share_of_scale(f64::from(fret), f64::from(divisions)))).collect();
        Self { scale, divisions, fan: false, bass: run, treble: run, lines, saddle: line(1.0) }
    }

    /// The number of the last fret.
    pub fn last(&self) -> usize {
        self.lines.len() - 1
    }

    /// The line of a fret, 0 being the zero line; none past the last.
    pub fn fret(&self, number: usize) -> Option<StationLine> {
        self.lines.get(number).copied()
    }

    /// The zero line.
    pub fn zero_line(&self) -> StationLine {
        self.lines[0]
    }

    /// The line of the last fret.
    pub fn last_line(&self) -> StationLine {
        self.lines[self.last()]
    }

    /// The saddle line, before compensation.
    pub fn saddle(&self) -> StationLine {
        self.saddle
    }

    /// The frets 1 to the last with their lines.
    pub fn frets(&self) -> impl Iterator<Item = (usize, StationLine)> + '_ {
        self.lines.iter().copied().enumerate().skip(1)
    }

    /// The middle of the gap before a fret: between the zero line and fret 1 for fret 1.
    pub fn gap_before(&self, fret: usize) -> Option<StationLine> {
        let before = self.fret(fret.checked_sub(1)?)?;
        Some(before.midway(&self.fret(fret)?))
    }

    /// The run of an outer string.
    pub fn run(&self, side: Side) -> StringRun {
        match side {
            Side::Bass => self.bass,
            Side::Treble => self.treble,
        }
    }

    /// Share of the scale at a fret.
    pub fn share(&self, fret: usize) -> f64 {
        share_of_scale(fret_number(fret), f64::from(self.divisions))
    }

    /// Length on the centreline that still sounds at a fret.
    pub fn sounding(&self, fret: usize) -> f64 {
        sounding_length(self.scale, fret_number(fret), f64::from(self.divisions))
    }

    /// Full width of the band within 1.5 cents of true.
    pub fn band(&self, fret: usize) -> f64 {
        true_band(self.sounding(fret))
    }
}

/// A fret's number as a figure.
pub(crate) fn fret_number(fret: usize) -> f64 {
    f64::from(u32::try_from(fret).unwrap_or(u32::MAX))
}

impl StringRun {
    /// The place along the centreline at a share of the run.
    pub fn at(&self, share: f64) -> f64 {
        place_on_run(self.start, share, self.run)
    }

    /// The share of the run at a place along the centreline.
    pub fn share_at(&self, place: f64) -> f64 {
        (place - self.start) / self.run
    }
}

impl Spreads {
    /// The spreads as written.
    ///
    /// # Errors
    /// With the key that is open or cannot be used.
    pub fn of(model: &Model) -> Known<Self> {
        Ok(Self { nut: model.strings.spread_nut.mm()?, saddle: model.strings.spread_saddle.mm()? })
    }

    /// The spread at a share of the strings' run.
    pub fn at(&self, share: f64) -> f64 {
        place_on_run(self.nut, share, self.saddle - self.nut)
    }
}

#[cfg(test)]
pub(crate) mod tests {
    use super::{Layout, Spreads};
    use crate::design::formulas::run_along_centreline;

    /// A straight scale of twelve steps to the octave.
    pub(crate) fn straight(scale: f64, frets: u32) -> Layout {
        Layout::straight(scale, (frets, 12))
    }

    /// A fan of twelve steps to the octave, its scales measured along the outer strings.
    pub(crate) fn fan((bass, treble): (f64, f64), (nut, saddle): (f64, f64), square: u32, frets: u32) -> Layout {
        let run = |scale: f64| run_along_centreline(scale, (saddle - nut) / 2.0);
        Layout::fanned((run(bass), run(treble)), Spreads { nut, saddle }, square, (frets, 12))
    }

    #[test]
    fn a_fan_stands_square_at_its_square_fret() {
        // Worked by hand and by a second program; no published source.
        let layout = fan((690.0, 665.0), (45.0, 70.0), 7, 24);
        let square = layout.fret(7).unwrap();
        assert!(square.slant.abs() < 1e-12, "{square:?}");
        let first = layout.fret(1).unwrap();
        assert!((first.x - 38.0187).abs() < 5e-5 && (first.slant - 0.148_967).abs() < 5e-7, "{first:?}");
    }
}
