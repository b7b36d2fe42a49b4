//! The order of the work: the steps from the agreement to the hand-over, and which of them must be done before which.
//!
//! Two tables, board first and neck first; common practice, no source. What a commission has no use for (lamps,
//! binding, a body, markers) drops out, and what needed it needs what it needed. A face that is radiused before it is
//! slotted turns the two round. A sheet says at its head after which steps and before which its own comes.

use super::Design;
use super::needs::OpenValue;
use crate::model::Model;
use crate::spec::words::{Cut, Sequence};

/// A step of the work.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Step {
    /// Its word, by which it is signed: `nut-end`.
    pub word: &'static str,
    /// What is done, as it reads after "before": "squaring the nut end".
    pub says: &'static str,
    /// The words of the steps that must be done before; none that another of them already waits for.
    pub needs: Vec<&'static str>,
}

/// The steps of a commission in their order.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct OrderOfWork {
    /// The steps; their numbers on paper are their places here, from 1.
    pub steps: Vec<Step>,
}

/// A row of a table: word, what is done, what it needs.
type Row = (&'static str, &'static str, &'static [&'static str]);

const BOARD_FIRST: &[Row] = &[
    ("agree", "the agreement", &[]),
    ("billet", "choosing the wood", &["agree"]),
    ("back", "truing the back", &["billet"]),
    ("nut-end", "squaring the nut end", &["back"]),
    ("test-cut", "trial cuts", &["back"]),
    ("slots", "slotting", &["nut-end", "test-cut"]),
    ("layout", "scribing taper and markers", &["slots"]),
    ("drill", "drilling", &["layout"]),
    ("seats", "lamp seats", &["drill"]),
    ("channels", "channels", &["seats"]),
    ("dry-test", "testing the lamps dry", &["channels"]),
    // What is bored from the flat face, and the line the heights are watched at, must be there.
    ("radius", "radiusing", &["slots", "layout", "drill", "seats"]),
    ("pot", "potting", &["dry-test", "radius"]),
    ("level", "levelling the back", &["pot"]),
    ("taper", "tapering", &["layout", "drill", "radius", "level"]),
    ("bind", "binding", &["taper"]),
    ("side-dots", "side dots", &["taper", "bind"]),
    ("neck", "shaping the neck", &["taper", "level", "bind"]),
    ("body", "the body", &["neck"]),
    ("glue", "gluing up", &["neck", "side-dots"]),
    ("fret", "fretting", &["glue"]),
    ("finish", "finishing", &["fret", "body"]),
    ("set-up", "setting up", &["finish"]),
    ("hand-over", "handing over", &["set-up"]),
];

const NECK_FIRST: &[Row] = &[
    ("agree", "the agreement", &[]),
    ("neck-blank", "preparing the neck's wood", &["agree"]),
    ("rod-slot", "the rod's slot", &["neck-blank"]),
    ("neck-taper", "the neck's sides", &["rod-slot"]),
    ("heel", "the heel", &["neck-taper"]),
    ("body", "the body", &["heel"]),
    ("billet", "choosing the wood", &["agree"]),
    ("back", "truing the back", &["billet"]),
    ("nut-end", "squaring the nut end", &["back"]),
    ("test-cut", "trial cuts", &["back"]),
    ("slots", "slotting", &["nut-end", "test-cut", "neck-taper"]),
    ("layout", "scribing taper and markers", &["slots"]),
    ("drill", "drilling", &["layout"]),
    ("seats", "lamp seats", &["drill"]),
    ("channels", "channels", &["seats", "heel"]),
    ("dry-test", "testing the lamps dry", &["channels"]),
    ("radius", "radiusing", &["slots", "layout", "drill", "seats"]),
    ("pot", "potting", &["dry-test", "radius"]),
    ("level", "levelling the back", &["pot"]),
    ("taper", "tapering", &["layout", "drill", "radius", "level"]),
    ("bind", "binding", &["taper"]),
    ("glue", "gluing up", &["taper", "heel", "level", "bind"]),
    ("flush", "trimming flush", &["glue"]),
    ("side-dots", "side dots", &["flush"]),
    ("neck-back", "shaping the neck's back", &["flush"]),
    ("fret", "fretting", &["neck-back", "side-dots"]),
    ("finish", "finishing", &["fret", "body"]),
    ("set-up", "setting up", &["finish"]),
    ("hand-over", "handing over", &["set-up"]),
];

/// The steps that a sheet is worked by; the first is the one by which it stands in the order.
const OF_SHEETS: &[(&str, &[&str])] = &[
    ("materials-list", &["billet"]),
    ("fret-table", &["slots"]),
    ("slot-depth", &["slots"]),
    ("taper", &["taper", "layout"]),
    ("drilling-chart", &["drill", "side-dots"]),
    ("lamp-seats", &["seats"]),
    ("routing-map", &["channels"]),
    ("wiring", &["dry-test"]),
    ("radius", &["radius"]),
    ("potting", &["pot"]),
    ("fret-wire", &["fret"]),
    ("nut-and-saddle", &["set-up"]),
    ("strings", &["set-up"]),
];

impl OrderOfWork {
    /// The steps of a commission; board first while its sequence is open.
    pub fn of(model: &Model, design: &Design) -> Self {
        let table = match model.commission.sequence.get() {
            Ok(Sequence::NeckFirst) => NECK_FIRST,
            _ => BOARD_FIRST,
        };
        let mut steps: Vec<Step> =
            table.iter().map(|(word, says, needs)| Step { word, says, needs: needs.to_vec() }).collect();
        if let Ok(Cut::AfterRadiusing | Cut::FollowingRadius) = model.slots.cut.get() {
            radius_first(&mut steps);
        }
        if design.face.is_ok_and(|face| face.is_flat()) {
            let radius = steps.iter_mut().filter(|step| step.word == "radius");
            radius.for_each(|step| step.says = "levelling the face");
        }
        for word in unwanted(model, design) {
            drop_step(&mut steps, word);
        }
        let mut order = Self { steps };
        order.leave_out_what_follows();
        order
    }

    /// Where a step stands, from 0; none that this commission has not.
    pub fn place(&self, word: &str) -> Option<usize> {
        self.steps.iter().position(|step| step.word == word)
    }

    /// A step as it is told by its word: `step 3, the rod's slot`; the word itself where this commission has no such step.
    pub fn told(&self, word: &str) -> String {
        let told = |place: usize| Some(format!("step\u{a0}{}, {}", place + 1, self.steps.get(place)?.says));
        self.place(word).and_then(told).unwrap_or_else(|| word.to_owned())
    }

    /// What is done before a step can begin.
    pub fn after<'a>(&'a self, step: &'a Step) -> impl Iterator<Item = &'static str> + 'a {
        self.steps.iter().filter(|other| step.needs.contains(&other.word)).map(|other| other.says)
    }

    /// What cannot begin before a step is done.
    pub fn before<'a>(&'a self, step: &'a Step) -> impl Iterator<Item = &'static str> + 'a {
        self.steps.iter().filter(|other| other.needs.contains(&step.word)).map(|other| other.says)
    }

    /// The steps that a sheet is worked by, each with its number; the one by which the sheet stands in the order first.
    pub fn of_sheet(&self, sheet: &str) -> Vec<(usize, &Step)> {
        let words = OF_SHEETS.iter().find(|(own, _)| *own == sheet).map_or(&[] as &[&str], |(_, words)| words);
        let numbered = |word: &&str| self.place(word).and_then(|place| Some((place + 1, self.steps.get(place)?)));
        words.iter().filter_map(numbered).collect()
    }

    /// Whether a sheet's work has to wait for an open value: something of it is left out, and a step of it comes after
    /// the one that cannot start without the value.
    pub fn waits_on(&self, open: &OpenValue, sheet: &str) -> bool {
        let follows = |first: usize| self.of_sheet(sheet).iter().any(|(number, _)| *number > first);
        open.left_out_on(sheet).is_some() && self.place(open.before).is_some_and(follows)
    }

    /// Leaves out of each step's needs what another of them waits for anyway.
    fn leave_out_what_follows(&mut self) {
        let before = self.clone();
        for step in &mut self.steps {
            let needs = step.needs.clone();
            step.needs.retain(|need| !needs.iter().any(|other| before.waits_for(other, need)));
        }
    }

    /// Whether a step waits for another, be it by way of others.
    fn waits_for(&self, word: &str, other: &str) -> bool {
        let needs = self.place(word).and_then(|place| self.steps.get(place)).map_or(&[] as &[_], |step| &step.needs);
        needs.iter().any(|need| *need == other || self.waits_for(need, other))
    }
}

/// The radius before the slots: it needs what they needed, they need it.
fn radius_first(steps: &mut Vec<Step>) {
    let place = |steps: &[Step], word: &str| steps.iter().position(|step| step.word == word);
    let Some(mut radius) = place(steps, "radius").map(|at| steps.remove(at)) else { return };
    radius.needs = vec!["nut-end", "test-cut"];
    let at = place(steps, "slots").unwrap_or(steps.len());
    if let Some(slots) = steps.get_mut(at) {
        slots.needs.push("radius");
    }
    steps.insert(at, radius);
}

/// The steps that a commission has no use for; what is not decided yet stays.
fn unwanted(model: &Model, design: &Design) -> Vec<&'static str> {
    let mut words = Vec::new();
    if model.lamp.is_none() {
        words.extend(["seats", "channels", "dry-test", "pot", "level"]);
    }
    if model.board.binding.mm().is_ok_and(|binding| binding <= 0.0) {
        words.push("bind");
    }
    if model.body.is_none() {
        words.push("body");
    }
    if design.markers.as_ref().is_ok_and(Vec::is_empty) {
        words.push("drill");
    }
    if model.markers.as_ref().is_none_or(|markers| markers.side.is_none()) {
        words.push("side-dots");
    }
    words
}

/// Takes a step out; what needed it needs what it needed.
fn drop_step(steps: &mut Vec<Step>, word: &'static str) {
    let Some(place) = steps.iter().position(|step| step.word == word) else { return };
    let dropped = steps.remove(place);
    for step in steps.iter_mut().filter(|step| step.needs.contains(&word)) {
        step.needs.retain(|need| *need != word);
        let missing = dropped.needs.iter().filter(|need| !step.needs.contains(need)).copied().collect::<Vec<_>>();
        step.needs.extend(missing);
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::diag::Report;
    use crate::source::{SourceFile, Sources};

    const LIT: &str = include_str!("../diag/pages/_lit.toml");

    fn order_of(text: &str) -> OrderOfWork {
        let mut sources = Sources::default();
        let mut report = Report::default();
        let file = sources.add(SourceFile::new("sample.toml", text));
        let written = crate::spec::read(&sources, file, &mut report);
        let model = crate::model::resolve::resolve(&written, None, &mut report).unwrap();
        assert!(!report.has_errors(), "{:?}", report.findings());
        OrderOfWork::of(&model, &Design::of(&model))
    }

    #[test]
    fn a_step_stands_behind_all_that_it_needs() {
        let cut = |cut: &str| LIT.replace("[slots]", &format!("[slots]\ncut = \"{cut}\""));
        let neck_first = LIT.replace("[commission]", "[commission]\nsequence = \"neck first\"");
        for text in [LIT.to_owned(), cut("after radiusing"), cut("following the radius"), neck_first] {
            let order = order_of(&text);
            for (place, step) in order.steps.iter().enumerate() {
                assert!(place == 0 || !step.needs.is_empty(), "{} waits for nothing", step.word);
                for need in &step.needs {
                    assert!(order.place(need).is_some_and(|need| need < place), "{} needs {need}", step.word);
                }
            }
        }
    }

    /// Radiusing comes before tapering because the block needs parallel edges to run by, and after all that is bored
    /// square to a flat face: common practice, no source.
    #[test]
    fn a_face_is_radiused_after_drilling_and_before_tapering() {
        let order = order_of(LIT);
        let place = |word: &str| order.place(word).unwrap();
        assert!(place("drill") < place("radius") && place("radius") < place("taper"));
        assert!(order.waits_for("taper", "radius") && order.waits_for("radius", "drill"));
        assert_eq!(order.of_sheet("taper").iter().map(|(_, step)| step.word).collect::<Vec<_>>(), ["taper", "layout"]);
        let after = order_of(&LIT.replace("[slots]", "[slots]\ncut = \"after radiusing\""));
        assert!(after.waits_for("slots", "radius") && !after.waits_for("radius", "slots"));
    }

    #[test]
    fn what_a_commission_has_not_is_no_step_of_it() {
        let order = order_of(LIT);
        assert!(order.place("seats").is_some());
        let unlit = include_str!("../../examples/smallest.toml");
        let order = order_of(unlit);
        for word in ["seats", "channels", "pot", "bind", "body"] {
            assert_eq!(order.place(word), None, "{word}");
            assert!(order.steps.iter().all(|step| !step.needs.contains(&word)), "{word}");
        }
    }
}
