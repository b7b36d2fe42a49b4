//! The one way in which an entry becomes a value with its origin.

use std::borrow::Cow;

use crate::diag::{Code, Diagnostic, Report, Severity, codes};
use crate::model::{Key, Missing, Origin, Resolved, ResolvedValue, Sourced, Why};
use crate::source::{FileId, Span};
use crate::spec::entry::{Entry, Given};
use crate::spec::leaf::{Leaf, Saying, Says};
use crate::spec::words::PlaceAlong;
use crate::spec::{Shop, nearest, table_rank};

/// What is known of the places along the board before it is computed.
#[derive(Debug, Clone, Copy)]
pub(super) struct Places {
    /// The number of the last fret, where it could be read.
    pub(super) last: Option<u32>,
    /// Whether the lamps' wires leave by an exit.
    pub(super) exit: bool,
}

/// Resolves values, collects those that stand in no file, and reports what is not there.
pub(super) struct Resolver<'a> {
    commission: FileId,
    pub(super) shop: Option<&'a Shop>,
    report: &'a mut Report,
    added: Vec<Resolved>,
}

impl<'a> Resolver<'a> {
    pub(super) fn new(commission: FileId, shop: Option<&'a Shop>, report: &'a mut Report) -> Self {
        Self { commission, shop, report, added: Vec::new() }
    }

    /// Whether a value is the commission's own.
    pub(super) fn is_own(&self, span: Span) -> bool {
        span.file == self.commission
    }

    fn origin(&self, span: Span) -> Origin {
        if self.is_own(span) { Origin::Commission(span) } else { Origin::ShopDefault(span) }
    }

    /// A written value.
    pub(super) fn given<T: Clone>(&self, key: Key, entry: &Entry<T>) -> Sourced<T> {
        let value = match &entry.given {
            Given::Value(value) => Ok(value.clone()),
            Given::Open => Err(Missing::open(key)),
            Given::Faulty => Err(Missing::faulty(key)),
        };
        Sourced { value, key, origin: self.origin(entry.span), written: entry.written.clone() }
    }

    /// A value that must be written; that it is not has its finding already.
    pub(super) fn required<T: Clone>(&self, key: Key, entry: &Option<Entry<T>>) -> Sourced<T> {
        entry.as_ref().map_or_else(|| nowhere(Missing::faulty(key), key), |entry| self.given(key, entry))
    }

    /// A value that need not be written.
    pub(super) fn optional<T: Clone>(&self, key: Key, entry: &Option<Entry<T>>) -> Option<Sourced<T>> {
        entry.as_ref().map(|entry| self.given(key, entry))
    }

    /// A value that has a built-in default.
    pub(super) fn or_built_in<T: Clone + Saying>(
        &mut self,
        key: Key,
        entry: &Option<Entry<T>>,
        built_in: T,
    ) -> Sourced<T> {
        match entry {
            Some(entry) => self.given(key, entry),
            None => self.built_in(key, built_in),
        }
    }

    /// A built-in default that nothing of this instrument asks for: it is not listed among those used.
    pub(super) fn or_unused<T: Clone>(&self, key: Key, entry: &Option<Entry<T>>, built_in: T) -> Sourced<T> {
        entry.as_ref().map_or_else(
            || Sourced { value: Ok(built_in), key, origin: Origin::BuiltIn, written: String::new() },
            |entry| self.given(key, entry),
        )
    }

    /// A built-in default.
    pub(super) fn built_in<T: Saying>(&mut self, key: Key, value: T) -> Sourced<T> {
        self.add(key, shown(value.says()), Origin::BuiltIn);
        Sourced { value: Ok(value), key, origin: Origin::BuiltIn, written: String::new() }
    }

    /// Records a value that stands in no entry of the commission.
    pub(super) fn add(&mut self, key: impl Into<Cow<'static, str>>, value: ResolvedValue, origin: Origin) {
        self.added.push(Resolved { key: key.into(), value, origin });
    }

    /// A place along the board; one that is not there is reported and faulty.
    pub(super) fn place(&mut self, key: Key, entry: &Option<Entry<PlaceAlong>>, places: Places) -> Sourced<PlaceAlong> {
        let mut place = self.required(key, entry);
        if let Some(entry) = entry
            && !self.is_there(key, entry, places)
        {
            place.value = Err(Missing::faulty(key));
        }
        place
    }

    /// Whether a place is there; that it is not is reported at `place`.
    pub(super) fn is_there(&mut self, place: &str, entry: &Entry<PlaceAlong>, places: Places) -> bool {
        let (why, help) = match (entry.value(), places.last) {
            (Some(PlaceAlong::Fret(0)), _) => {
                ("frets are counted from 1".to_owned(), "for the zero line write a length".to_owned())
            }
            (Some(PlaceAlong::Fret(number)), Some(last)) if *number > last => {
                (format!("the last fret is {last}"), "write \"last fret\", or a fret that is there".to_owned())
            }
            (Some(PlaceAlong::Exit), _) if !places.exit => {
                ("there are no lamps, so no wires leave the board".to_owned(), "write a length from the nut".to_owned())
            }
            _ => return true,
        };
        let message = format!("`{place}` = \"{}\": {why}", entry.written);
        self.say(codes::SPEC_19, place, entry.span, message, Some(help));
        false
    }

    /// Reports something that is named and not there, with the nearest name that is.
    pub(super) fn not_there<'n>(
        &mut self,
        code: Code,
        place: &str,
        span: Span,
        message: String,
        name: &str,
        known: impl Iterator<Item = &'n str> + Clone,
    ) {
        let help = match nearest(name, known.clone()) {
            Some(near) => Some(format!("did you mean \"{near}\"?")),
            None => {
                let list: Vec<&str> = known.take(12).collect();
                (!list.is_empty()).then(|| format!("there are {}", list.join(", ")))
            }
        };
        self.say(code, place, span, message, help);
    }

    /// Reports a finding.
    pub(super) fn say(&mut self, code: Code, place: &str, span: Span, message: String, help: Option<String>) {
        let mut finding = Diagnostic::new(code, Severity::Error, place.to_owned(), message).at(Some(span));
        if let Some(help) = help {
            finding = finding.help(help);
        }
        self.report.push(finding);
    }

    /// Reports a finding that is made already.
    pub(super) fn push(&mut self, finding: Diagnostic) {
        self.report.push(finding);
    }

    /// Every value of the commission in the order of its tables: what is written, and at the end of each table
    /// what came from stock, catalogue and built-in defaults.
    pub(super) fn values(self, leaves: Vec<Leaf>) -> Vec<Resolved> {
        let mut values: Vec<Resolved> = Vec::new();
        for leaf in leaves {
            if leaf.key == "format" || leaf.key.starts_with("waiver") {
                continue;
            }
            let origin = self.origin(leaf.span);
            match leaf.key.strip_suffix(']').and_then(|key| key.rsplit_once('[')) {
                Some((list, _)) => match values.last_mut() {
                    Some(Resolved { key, value: ResolvedValue::List(members), .. }) if key == list => {
                        members.push(member(leaf.says));
                    }
                    _ => values.push(Resolved {
                        key: list.to_owned().into(),
                        value: ResolvedValue::List(vec![member(leaf.says)]),
                        origin,
                    }),
                },
                None => values.push(Resolved { key: leaf.key.into(), value: shown(leaf.says), origin }),
            }
        }
        // A size of the commission's pattern goes before the shop's default of that size.
        values.retain(|value| !self.added.iter().any(|added| added.key == value.key));
        values.extend(self.added);
        values.sort_by_key(|value| table_rank(&value.key));
        values
    }
}

/// A value that stands nowhere.
pub(super) fn nowhere<T>(missing: Missing, key: Key) -> Sourced<T> {
    Sourced { value: Err(missing), key, origin: Origin::Nowhere, written: String::new() }
}

/// A value that is nothing by itself, such as an empty list that nobody wrote.
pub(super) fn unsaid<T>(key: Key, value: T) -> Sourced<T> {
    Sourced { value: Ok(value), key, origin: Origin::Nowhere, written: String::new() }
}

/// The same value seen otherwise.
pub(super) fn mapped<T, U>(sourced: Sourced<T>, change: impl FnOnce(T) -> U) -> Sourced<U> {
    Sourced { value: sourced.value.map(change), key: sourced.key, origin: sourced.origin, written: sourced.written }
}

/// All members of a list, or why one of them is not there.
pub(super) fn all_values<T: Clone>(entries: &[Entry<T>]) -> Result<Vec<T>, Why> {
    entries.iter().map(one_value).collect()
}

/// One value, or why it is not there.
pub(super) fn one_value<T: Clone>(entry: &Entry<T>) -> Result<T, Why> {
    match &entry.given {
        Given::Value(value) => Ok(value.clone()),
        Given::Open => Err(Why::Open),
        Given::Faulty => Err(Why::Faulty),
    }
}

/// The value of a key that must be there.
pub(super) fn needed<T: Clone>(entry: &Option<Entry<T>>) -> Result<T, Why> {
    entry.as_ref().map_or(Err(Why::Faulty), one_value)
}

/// What a value says, for the record.
pub(super) fn shown(says: Says) -> ResolvedValue {
    match says {
        Says::Figure(figure, unit) => ResolvedValue::Figure(figure, unit),
        Says::Count(count) => ResolvedValue::Count(i64::from(count)),
        Says::Words(words) => ResolvedValue::Words(words),
        Says::Open => ResolvedValue::Open,
    }
}

/// A member of a list in words.
fn member(says: Says) -> String {
    match says {
        Says::Figure(figure, "") => format!("{figure}"),
        Says::Figure(figure, unit) => format!("{figure} {unit}"),
        Says::Count(count) => count.to_string(),
        Says::Words(words) => words,
        Says::Open => "open".to_owned(),
    }
}
