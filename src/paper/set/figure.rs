//! Drawings: placed for the room they get, set in the middle of it, with their caption.

use std::sync::Arc;

use super::{Column, FIGURES, Setter};
use crate::drawing::{Picture, Room};
use crate::lettering::Face;
use crate::paper::atom::Atom;
use crate::paper::block::Figure;
use crate::paper::page::Role;
use crate::paper::sketch::Sketch;
use crate::paper::text::{Style, wrap};

/// A drawing may come out so much narrower than at its best, to save a page.
const LEAST_WIDTH: f64 = 0.75;

/// Pictures already drawn for a sheet, so that trying another degree of comfort does not draw them again.
#[derive(Debug, Clone, Default)]
pub(crate) struct Gallery {
    drawn: Vec<(Figure, Room, Arc<Picture>)>,
}

impl Gallery {
    /// A figure as it was drawn first: for the most room that a page has for it.
    pub(crate) fn largest(&self, figure: &Figure) -> Option<&Picture> {
        self.drawn.iter().find(|(known, ..)| known == figure).map(|(_, _, picture)| picture.as_ref())
    }

    /// The picture for a room: the one drawn for it, or one for a larger room of the same width where it fits.
    fn picture(&mut self, figure: &Figure, room: Room) -> Arc<Picture> {
        let same_width = |had: &Room| (had.width - room.width).abs() < 1e-9;
        let serves = |had: &Room, picture: &Picture| {
            *had == room || same_width(had) && had.height >= room.height && picture.height <= room.height
        };
        if let Some((_, _, picture)) =
            self.drawn.iter().find(|(known, had, picture)| known == figure && serves(had, picture))
        {
            return Arc::clone(picture);
        }
        let picture = Arc::new(figure.drawing.place(room));
        self.drawn.push((figure.clone(), room, Arc::clone(&picture)));
        picture
    }
}

impl Setter<'_> {
    pub(super) fn figure(&mut self, figure: &Figure, column: Column) -> Vec<Atom> {
        let style = Style::new(Face::Bold, 10.5);
        let element = self.element(Role::Figure, column.parent);
        let mut sketch = Sketch::default();
        let mut top = 0.0;
        if !figure.caption.is_empty() {
            let caption = self.element(Role::Caption, element);
            let lines = wrap(&figure.caption, style, column.width);
            top = sketch.lines(&lines, (column.x, 0.0), style, Some(caption)) - 1.5;
        }
        let picture = self.picture(figure, column.width, top);
        self.elements[element.0].alternative = Some(picture.alt.clone());
        // A picture keeps to its room; should one not, it is scaled rather than let over the edge.
        let factor = (column.width / picture.width.max(1e-9)).min(1.0);
        let mut drawn = Sketch::default();
        picture.items().for_each(|item| drawn.item(item.clone(), Some(element)));
        if factor < 1.0 {
            drawn = drawn.scaled(factor);
        }
        let (width, height) = (picture.width * factor, picture.height * factor);
        sketch.place(&drawn, column.x + (column.width - width) / 2.0, top - height);
        vec![Atom { sketch, height: height - top, before: self.white(4.5), ..Atom::default() }]
    }

    /// The picture at the share of the page that comfort leaves it, or at a larger one where it would come out much
    /// narrower than it could: no page is worth saving by a drawing that nobody can read.
    fn picture(&mut self, figure: &Figure, width: f64, caption: f64) -> Arc<Picture> {
        let mut at = |share: f64| {
            let most = self.room * share;
            let most = figure.height.map_or(most, |height| height.min(self.room)) + caption;
            self.gallery.picture(figure, Room { width, height: most.max(10.0) })
        };
        let best = at(FIGURES[0]);
        let allowed = FIGURES.iter().rev().filter(|share| **share >= self.comfort.figure);
        let mut tried = allowed.map(|share| at(*share));
        tried.find(|picture| picture.width >= LEAST_WIDTH * best.width).unwrap_or(best)
    }
}
