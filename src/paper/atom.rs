//! What flows into pages: atoms, which are never cut, and the rules that hold them together.

use std::sync::Arc;

use super::sketch::Sketch;

/// How strongly an atom holds to the next one.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Default)]
pub(crate) enum Hold {
    /// A page may end here.
    #[default]
    Loose,
    /// A page ends here only if the group is taller than a page.
    Group,
    /// A page ends here only if nothing else is possible: a heading and what it heads.
    Firm,
}

/// A strip of the page that is never cut.
#[derive(Debug, Clone, Default)]
pub(crate) struct Atom {
    pub(crate) sketch: Sketch,
    /// Millimetres.
    pub(crate) height: f64,
    /// White before it, except at the top of a page; millimetres.
    pub(crate) before: f64,
    pub(crate) hold: Hold,
    /// What is set again over it where it comes first on a page: a table's head.
    pub(crate) header: Option<Arc<Atom>>,
    /// What closes it where it comes last on a page: a table's rule; at its bottom, takes no room.
    pub(crate) closing: Option<Arc<Sketch>>,
    /// Level and words, if it is a heading.
    pub(crate) heading: Option<(u8, String)>,
}

/// An atom in its place: `top` is how far below the top of the text area its top lies.
#[derive(Debug, Clone)]
pub(crate) struct Placed {
    pub(crate) top: f64,
    pub(crate) atom: Arc<Atom>,
    /// Whether it is the last of its page though more was to follow.
    pub(crate) closes: bool,
}

impl Placed {
    fn new(top: f64, atom: &Arc<Atom>) -> Self {
        Self { top, atom: Arc::clone(atom), closes: false }
    }
}

/// Two heights that differ by less, in millimetres, count as alike.
const SLACK: f64 = 1e-6;

/// Fills pages of `room` millimetres with atoms, in order.
///
/// No atom is cut; one that is taller than a page is scaled down to it. Each page holds at least one atom.
pub(crate) fn paginate(atoms: Vec<Atom>, room: f64) -> Vec<Vec<Placed>> {
    let atoms: Vec<Arc<Atom>> = atoms.into_iter().map(|atom| Arc::new(shrunk(atom, room))).collect();
    let mut pages = Vec::new();
    let mut page: Vec<Placed> = Vec::new();
    let mut y = 0.0;
    let mut at = 0;
    while at < atoms.len() {
        let header = atoms[at].header.clone().filter(|_| page.is_empty());
        let header_height = header.as_ref().map_or(0.0, |header| header.height);
        let at_top = page.is_empty() && header.is_none();
        let fits = |end: usize| y + header_height + stack(&atoms[at..end], at_top) <= room + SLACK;
        let end = match (chain(&atoms, at, Hold::Group), chain(&atoms, at, Hold::Firm)) {
            (whole, _) if fits(whole) => whole,
            // What fits no page as a whole begins where it stands, in smaller pieces.
            (whole, firm) if stack(&atoms[at..whole], true) > room && fits(firm) => firm,
            _ if page.is_empty() => at + 1,
            _ => {
                close(&mut page, &mut pages);
                y = 0.0;
                continue;
            }
        };
        if let Some(header) = header.filter(|header| header.height + atoms[at].height <= room + SLACK) {
            page.push(Placed::new(0.0, &header));
            y = header.height;
        }
        for atom in &atoms[at..end] {
            if !page.is_empty() {
                y += atom.before;
            }
            page.push(Placed::new(y, atom));
            y += atom.height;
        }
        at = end;
    }
    if !page.is_empty() {
        close(&mut page, &mut pages);
    }
    pages
}

fn close(page: &mut Vec<Placed>, pages: &mut Vec<Vec<Placed>>) {
    if let Some(last) = page.last_mut() {
        last.closes = true;
    }
    pages.push(std::mem::take(page));
}

/// One past the last atom that holds to the one at `at` at least so strongly.
fn chain(atoms: &[Arc<Atom>], at: usize, hold: Hold) -> usize {
    let rest = &atoms[at..];
    at + rest.iter().position(|atom| atom.hold < hold).map_or(rest.len(), |last| last + 1)
}

/// Height of atoms one under the other.
fn stack(atoms: &[Arc<Atom>], at_top: bool) -> f64 {
    let before = |index: usize, atom: &Arc<Atom>| if index == 0 && at_top { 0.0 } else { atom.before };
    atoms.iter().enumerate().map(|(index, atom)| before(index, atom) + atom.height).sum()
}

fn shrunk(mut atom: Atom, room: f64) -> Atom {
    if atom.height > room {
        let factor = room / atom.height;
        atom.sketch = atom.sketch.scaled(factor);
        atom.height = room;
    }
    atom
}

#[cfg(test)]
mod tests {
    use super::*;

    fn atom(height: f64, before: f64, hold: Hold) -> Atom {
        Atom { height, before, hold, ..Atom::default() }
    }

    fn tops(pages: &[Vec<Placed>]) -> Vec<Vec<f64>> {
        pages.iter().map(|page| page.iter().map(|placed| placed.top).collect()).collect()
    }

    #[test]
    fn white_before_the_first_of_a_page_is_dropped() {
        let atoms = vec![atom(40.0, 5.0, Hold::Loose), atom(40.0, 5.0, Hold::Loose), atom(40.0, 5.0, Hold::Loose)];
        assert_eq!(tops(&paginate(atoms, 100.0)), [vec![0.0, 45.0], vec![0.0]]);
    }

    #[test]
    fn a_heading_goes_over_with_what_it_heads() {
        let atoms = vec![atom(70.0, 0.0, Hold::Loose), atom(10.0, 0.0, Hold::Firm), atom(30.0, 0.0, Hold::Loose)];
        assert_eq!(tops(&paginate(atoms, 100.0)), [vec![0.0], vec![0.0, 10.0]]);
    }

    #[test]
    fn a_group_taller_than_a_page_is_parted_but_its_headings_hold() {
        let atoms = vec![
            atom(80.0, 0.0, Hold::Group),
            atom(10.0, 0.0, Hold::Firm),
            atom(30.0, 0.0, Hold::Group),
            atom(30.0, 0.0, Hold::Loose),
        ];
        assert_eq!(tops(&paginate(atoms, 100.0)), [vec![0.0], vec![0.0, 10.0, 40.0]]);
    }

    #[test]
    fn a_row_first_on_a_page_stands_under_its_head_again() {
        let header = Some(Arc::new(atom(8.0, 0.0, Hold::Firm)));
        let row = || Atom { header: header.clone(), ..atom(30.0, 0.0, Hold::Loose) };
        let atoms = vec![atom(8.0, 0.0, Hold::Firm), row(), row(), row(), row()];
        assert_eq!(tops(&paginate(atoms, 100.0)), [vec![0.0, 8.0, 38.0, 68.0], vec![0.0, 8.0]]);
    }

    #[test]
    fn what_is_taller_than_a_page_is_scaled_to_it() {
        let pages = paginate(vec![atom(250.0, 0.0, Hold::Loose), atom(10.0, 0.0, Hold::Loose)], 100.0);
        assert_eq!(tops(&pages), [[0.0], [0.0]]);
        assert!((pages[0][0].atom.height - 100.0).abs() < 1e-9);
    }
}
