//! Pages of tiles: frame, bars, and the tiles in their places; one long page for a roll.

use kurbo::{Rect, Size};

use super::cut::{self, Tile};
use super::{Piece, Stretch, Tiled, bars, pack};
use crate::paper::frame::{Frame, Turn};
use crate::paper::page::{ElementId, Page};
use crate::paper::sketch::Sketch;
use crate::paper::volume::Volume;

/// Where tiles lie on a page whose text area this is: right of and above the bars.
pub(super) fn window(area: Rect) -> Rect {
    Rect { x0: area.x0 + bars::SIDE, y0: area.y0 + bars::FOOT, ..area }
}

/// Draws one page; its number is from 0, and of how many.
pub(super) fn draw(tiled: &Tiled, index: usize, frame: &Frame, (number, count): (usize, usize)) -> Page {
    let turn = Turn { index: number, count, back: None, bound: Some((number + 1, count)) };
    let element = |id: usize| (index == 0).then_some(ElementId(id));
    let mut sketch = frame.draw(turn, element(1), element(2));
    bars::draw(&mut sketch, frame.body(None), tiled.stretch);
    place(&mut sketch, &tiled.tiles, &tiled.pages[index], tiled.window);
    let (width, height) = frame.paper.size();
    Page { width, height, marks: sketch.marks, links: sketch.links }
}

fn place(sketch: &mut Sketch, tiles: &[Tile], placed: &[pack::Placed], window: Rect) {
    for placed in placed {
        let tile = &tiles[placed.tile];
        sketch.place(&tile.sketch, window.x0 + placed.x, window.y1 - placed.top - tile.height);
    }
}

/// All pieces whole on one page.
pub(super) fn roll(pieces: &[Piece], frame: &Frame) -> Volume {
    let (tiles, elements) = cut::tiles(pieces, Stretch::NONE, None);
    // As wide as the longest piece, and no narrower than ordinary paper, so that head and foot keep their place.
    let paper = frame.paper.frame();
    let least = window(frame.body(None)).width();
    let wide = tiles.iter().map(|tile| tile.width).fold(least, f64::max);
    let packed = pack::on_pages(&tiles, Size::new(wide, f64::INFINITY)).concat();
    let room = Rect { x1: paper.x1 + wide - least, ..paper };
    let around = room.height() - window(frame.body_in(room, None)).height();
    let edge = Rect { y1: room.y0 + around + pack::height(&tiles, &packed) + 2.0, ..room };
    let mut sketch = frame.draw_in(
        edge,
        Turn { index: 0, count: 1, back: None, bound: None },
        Some(ElementId(1)),
        Some(ElementId(2)),
    );
    let area = frame.body_in(edge, None);
    bars::draw(&mut sketch, area, Stretch::NONE);
    place(&mut sketch, &tiles, &packed, window(area));
    let page = Page { width: edge.x1 + paper.y0, height: edge.y1 + paper.y0, marks: sketch.marks, links: sketch.links };
    let mut volume = Volume::default();
    volume.append_pages("roll", vec![page], &elements);
    volume
}
