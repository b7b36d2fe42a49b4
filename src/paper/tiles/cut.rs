//! Cutting: where the seams of a plan lie, and what each tile shows.

use kurbo::{Affine, Point, Rect, Size, Vec2};

use super::seam::{self, OVERLAP};
use super::{Piece, Ruler, Stretch};
use crate::drawing::clip::{clipped, contains};
use crate::drawing::{Anchor, Item, LineKind, Pen, Stroke, Text};
use crate::lettering::Face;
use crate::paper::page::{Element, ElementId, Role};
use crate::paper::sketch::Sketch;
use crate::paper::text::{Style, harmless, wrap};
use crate::rounding;

/// White round a plan that its tiles keep, millimetres.
const WHITE: f64 = 2.0;
/// What is added to it where there are seams: room for crosses and names beside the plan, millimetres.
const CROSSES: f64 = 7.0;
/// How much of the neighbours round the work is shown where all of them would cost another tile or a
/// worse seam, millimetres.
const NEIGHBOURS: f64 = 10.0;
/// Arm of a cross, millimetres.
const ARM: f64 = 3.5;
/// Height of the ruler, millimetres.
const RULER: f64 = 8.0;
/// The name and the note over a tile.
const NAME: Style = Style::new(Face::Bold, 9.0);
const NOTE: Style = Style::new(Face::Condensed, 7.5);
/// The narrowest a name and note are set, millimetres.
const NARROWEST: f64 = 46.0;

/// From a plan's millimetres to the page's.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Map(Affine);

impl Map {
    pub(super) fn at(self, at: Point) -> Point {
        self.0 * at
    }

    pub(super) fn moved(self, (x, y): (f64, f64)) -> Self {
        Self(Affine::translate((x, y)) * self.0)
    }
}

/// A tile, drawn with its lower left corner at the origin.
#[derive(Debug, Clone)]
pub(super) struct Tile {
    pub(super) piece: usize,
    /// Which, from 0, and of how many.
    pub(super) number: (usize, usize),
    pub(super) area: Rect,
    pub(super) seams: Vec<f64>,
    pub(super) width: f64,
    pub(super) height: f64,
    pub(super) sketch: Sketch,
    pub(super) map: Map,
}

/// All tiles of all pieces, for pages with this much room; whole pieces where there is no limit.
pub(super) fn tiles(pieces: &[Piece], stretch: Stretch, room: Option<Size>) -> (Vec<Tile>, Vec<Element>) {
    let mut elements = vec![
        Element { role: Role::Section, parent: None, alternative: None },
        Element { role: Role::Heading(1), parent: Some(ElementId(0)), alternative: None },
        Element { role: Role::Paragraph, parent: Some(ElementId(0)), alternative: None },
    ];
    let mut tiles = Vec::new();
    for (index, piece) in pieces.iter().enumerate() {
        tiles.extend(Cutter::new(index, piece, stretch, room).tiles(&mut elements));
    }
    (tiles, elements)
}

/// How one piece is cut.
struct Cutter<'a> {
    index: usize,
    piece: &'a Piece,
    /// What is shown of the plan: all of it, or the work with a margin where that takes fewer tiles or better seams.
    bounds: Rect,
    /// Whether its x runs up the page.
    turned: bool,
    /// Millimetres of paper to one of the plan, along its x and y.
    factors: (f64, f64),
    /// Where it is cut across its x and across its y.
    seams: [Vec<f64>; 2],
}

impl<'a> Cutter<'a> {
    fn new(index: usize, piece: &'a Piece, stretch: Stretch, room: Option<Size>) -> Self {
        let bounds = piece.plan.bounds().unwrap_or(Rect::ZERO);
        let mut cutter =
            Self { index, piece, bounds, turned: false, factors: (stretch.x, stretch.y), seams: [vec![], vec![]] };
        let Some(room) = room else { return cutter };
        let whole = (bounds.width() + 2.0 * WHITE).max(NARROWEST);
        cutter.turned = piece.lengthwise || whole * stretch.x > room.width;
        let (along, across) = if cutter.turned { (room.height, room.width) } else { (room.width, room.height) };
        if cutter.turned {
            cutter.factors = (stretch.y, stretch.x);
        }
        let across = across - cutter.head(along).1 - cutter.ruler_height();
        let steps = piece.ruler.as_ref().map_or((0.0, 10.0), |ruler| (ruler.origin, ruler.pitch()));
        let [in_the_way, in_the_way_of_rows] = [false, true].map(|rows| seam::in_the_way(&piece.plan, rows));
        let cuts = |bounds: Rect| {
            let stretch = (bounds.x0 - WHITE, bounds.x1 + WHITE);
            seam::seams(stretch, along / cutter.factors.0, steps, &in_the_way)
        };
        if let Some(work) = piece.plan.bounds_of_work() {
            let near = work.inflate(NEIGHBOURS, NEIGHBOURS);
            let near = Rect { x0: near.x0.max(bounds.x0), x1: near.x1.min(bounds.x1), ..bounds };
            let cost = |seams: Vec<f64>| (seams.len(), seam::cut(&seams, &in_the_way));
            if cost(cuts(near)) < cost(cuts(bounds)) {
                cutter.bounds = near;
            }
        }
        let bounds = cutter.bounds;
        let rows = |white: f64| {
            let stretch = (bounds.y0 - white, bounds.y1 + white);
            seam::seams(stretch, across / cutter.factors.1, (0.0, steps.1), &in_the_way_of_rows)
        };
        cutter.seams = [cuts(bounds), rows(WHITE)];
        if !cutter.seams[0].is_empty() {
            // Room for crosses beside the plan may ask for a cut of its own, on a plan as wide as the page.
            cutter.seams[1] = rows(WHITE + CROSSES);
        }
        cutter
    }

    fn ruler_height(&self) -> f64 {
        if self.piece.ruler.is_some() { RULER } else { 0.0 }
    }

    /// Width and height of name and note over a tile so wide.
    fn head(&self, width: f64) -> (f64, f64) {
        let width = width.max(NARROWEST);
        let lines = wrap(&self.piece.note.as_str().into(), NOTE, width).len();
        // The name of a tile among many is longer than its title, and may take a line more.
        (width, 2.0 * NAME.pitch() + lines as f64 * NOTE.pitch() + 1.0)
    }

    fn tiles(&self, elements: &mut Vec<Element>) -> Vec<Tile> {
        let white = |seams: &[f64]| if seams.is_empty() { WHITE } else { WHITE + CROSSES };
        let (dx, dy) = (white(&self.seams[1]), white(&self.seams[0]));
        let columns = stretches((self.bounds.x0 - dx, self.bounds.x1 + dx), &self.seams[0]);
        let rows = stretches((self.bounds.y0 - dy, self.bounds.y1 + dy), &self.seams[1]);
        let count = columns.len() * rows.len();
        let mut tiles = Vec::with_capacity(count);
        for (y0, y1) in &rows {
            for (x0, x1) in &columns {
                let area = Rect::new(*x0, *y0, *x1, *y1);
                tiles.push(self.tile(area, (tiles.len(), count), elements));
            }
        }
        tiles
    }

    fn tile(&self, area: Rect, number: (usize, usize), elements: &mut Vec<Element>) -> Tile {
        let figure = ElementId(elements.len());
        let name = self.name(area, number);
        elements.push(Element {
            role: Role::Figure,
            parent: Some(ElementId(0)),
            alternative: Some(format!("{name}. {}", self.piece.plan.description)),
        });
        let caption = ElementId(elements.len());
        elements.push(Element { role: Role::Caption, parent: Some(figure), alternative: None });
        let (wide, high) = (area.width() * self.factors.0, area.height() * self.factors.1);
        let width = wide.max(NARROWEST);
        let mut lines = Sketch::default();
        let mut y = lines.lines(&wrap(&name.as_str().into(), NAME, width), (0.0, 0.0), NAME, Some(caption));
        y = lines.lines(&wrap(&self.piece.note.as_str().into(), NOTE, width), (0.0, y), NOTE, Some(caption)) - 1.0;
        let foot = self.ruler_height();
        let height = high + foot - y;
        let map = Affine::translate((0.0, foot))
            * Affine::scale_non_uniform(self.factors.0, self.factors.1)
            * Affine::translate(-area.origin().to_vec2());
        let mut sketch = Sketch::default();
        sketch.place(&lines, 0.0, height);
        self.draw_plan(&mut sketch, area, map, figure);
        self.draw_seams(&mut sketch, area, map, number, figure);
        if let Some(ruler) = &self.piece.ruler {
            draw_ruler(&mut sketch, ruler, area, map, figure);
        }
        let inside = |seam: &&f64| area.x0 < **seam && **seam < area.x1;
        let seams = self.seams[0].iter().filter(inside).copied().collect();
        let mut tile = Tile { piece: self.index, number, area, seams, width, height, sketch, map: Map(map) };
        if self.turned {
            let turn = Affine::new([0.0, 1.0, -1.0, 0.0, height, 0.0]);
            tile.sketch = tile.sketch.turned(height);
            tile.map = Map(turn * map);
            (tile.width, tile.height) = (height, width);
        }
        tile
    }

    fn name(&self, area: Rect, (index, count): (usize, usize)) -> String {
        let mut name = harmless(&self.piece.title).replace('\n', " ");
        if count > 1 {
            name = format!("{name} · tile\u{a0}{} of\u{a0}{count}", index + 1);
        }
        if let Some(ruler) = &self.piece.ruler {
            name = format!(
                "{name} · {}\u{a0}…\u{a0}{}\u{a0}{} from {}",
                ruler.reading(area.x0),
                ruler.reading(area.x1),
                ruler.unit,
                ruler.datum
            );
        }
        name
    }

    fn draw_plan(&self, sketch: &mut Sketch, area: Rect, map: Affine, figure: ElementId) {
        for mark in &self.piece.plan.marks {
            let Some(bounds) = mark.figure.bounds() else { continue };
            match mark.item() {
                Item::Path { outline, stroke, fill } => {
                    let outline = if contains(area, bounds) { outline } else { clipped(&outline, area) };
                    if !outline.is_empty() {
                        sketch.item(Item::Path { outline: map * &outline, stroke, fill }, Some(figure));
                    }
                }
                Item::Text(text) => {
                    if self.shows(area, bounds) {
                        let text = Text { at: map * text.at, text: harmless(&text.text), ..text };
                        sketch.item(Item::Text(text), Some(figure));
                    }
                }
            }
        }
    }

    /// Whether a text stands on a tile: on each that holds it whole; on the one that holds its middle where none does.
    fn shows(&self, area: Rect, text: Rect) -> bool {
        contains(area, text) || {
            let owned = self.owned(area);
            let middle = text.center();
            let held = |range: (f64, f64), at: f64| range.0 <= at && at < range.1;
            held(owned[0], middle.x) && held(owned[1], middle.y) && !self.held_whole(text)
        }
    }

    /// The stretches between the seams that a tile has to itself, along x and y.
    fn owned(&self, area: Rect) -> [(f64, f64); 2] {
        let within = |seams: &[f64], low: f64, high: f64| {
            let from = seams
                .iter()
                .copied()
                .filter(|seam| *seam - OVERLAP / 2.0 <= low + 1e-9)
                .fold(f64::NEG_INFINITY, f64::max);
            let to =
                seams.iter().copied().filter(|seam| *seam + OVERLAP / 2.0 >= high - 1e-9).fold(f64::INFINITY, f64::min);
            (from, to)
        };
        [within(&self.seams[0], area.x0, area.x1), within(&self.seams[1], area.y0, area.y1)]
    }

    /// Whether some tile holds a text whole: no seam comes so near that both its tiles cut it.
    fn held_whole(&self, text: Rect) -> bool {
        let whole = |seams: &[f64], low: f64, high: f64| {
            seams.iter().all(|seam| high <= seam + OVERLAP / 2.0 || low >= seam - OVERLAP / 2.0)
        };
        whole(&self.seams[0], text.x0, text.x1) && whole(&self.seams[1], text.y0, text.y1)
    }

    /// The seams as lines, with crosses that two tiles share, and whose tile lies on either side.
    fn draw_seams(
        &self,
        sketch: &mut Sketch,
        area: Rect,
        map: Affine,
        (index, count): (usize, usize),
        figure: ElementId,
    ) {
        let columns = self.seams[0].len() + 1;
        let near = |low: f64, high: f64| [low + CROSSES - ARM, high - CROSSES + ARM];
        for seam in self.seams[0].iter().filter(|seam| area.x0 < **seam && **seam < area.x1) {
            line(sketch, map, Point::new(*seam, area.y0), Point::new(*seam, area.y1), Pen::Neighbour.stroke(), figure);
            for y in near(area.y0, area.y1) {
                cross(sketch, map, Point::new(*seam, y), figure);
            }
            let before = if *seam - area.x0 < area.x1 - seam { index } else { index + 1 };
            let top = map * Point::new(*seam, area.y1);
            for (shift, anchor, number) in [(-1.2, Anchor::End, before), (1.2, Anchor::Start, before + 1)] {
                if number >= 1 && number <= count {
                    let at = (top.x + shift, top.y - 2.6);
                    sketch.text(at, anchor, &number.to_string(), (Face::Bold, 8.0), Some(figure));
                }
            }
        }
        for seam in self.seams[1].iter().filter(|seam| area.y0 < **seam && **seam < area.y1) {
            line(sketch, map, Point::new(area.x0, *seam), Point::new(area.x1, *seam), Pen::Neighbour.stroke(), figure);
            for x in near(area.x0, area.x1) {
                cross(sketch, map, Point::new(x, *seam), figure);
            }
            let below = if *seam - area.y0 < area.y1 - seam { (index + 1).saturating_sub(columns) } else { index + 1 };
            let end = map * Point::new(area.x0, *seam);
            for (shift, number) in [(-3.4, below), (1.2, below + columns)] {
                if number >= 1 && number <= count {
                    let at = (end.x + 0.6, end.y + shift);
                    sketch.text(at, Anchor::Start, &number.to_string(), (Face::Bold, 8.0), Some(figure));
                }
            }
        }
    }
}

/// The stretches between seams, each with its overlap.
fn stretches((low, high): (f64, f64), seams: &[f64]) -> Vec<(f64, f64)> {
    let from = std::iter::once(low).chain(seams.iter().map(|seam| seam - OVERLAP / 2.0));
    let to = seams.iter().map(|seam| seam + OVERLAP / 2.0).chain(std::iter::once(high));
    from.zip(to).collect()
}

fn line(sketch: &mut Sketch, map: Affine, from: Point, to: Point, stroke: Stroke, figure: ElementId) {
    let outline = map * &crate::drawing::outline::polyline(&[from, to]);
    sketch.item(Item::Path { outline, stroke: Some(stroke), fill: None }, Some(figure));
}

fn cross(sketch: &mut Sketch, map: Affine, at: Point, figure: ElementId) {
    let stroke = Stroke { width: 0.25, kind: LineKind::Continuous };
    for arm in [Vec2::new(ARM, 0.0), Vec2::new(0.0, ARM)] {
        line(sketch, map, at - arm, at + arm, stroke, figure);
    }
}

/// The ruler under a tile, from its beginning on.
fn draw_ruler(sketch: &mut Sketch, ruler: &Ruler, area: Rect, map: Affine, figure: ElementId) {
    let stroke = Stroke { width: 0.25, kind: LineKind::Continuous };
    let (base, from) = (area.y0, area.x0.max(ruler.origin));
    line(sketch, map, Point::new(from, base), Point::new(area.x1, base), stroke, figure);
    let count = |x: f64| (x - ruler.origin) / ruler.pitch();
    let (first, last) = (count(from).ceil(), count(area.x1).floor());
    for tick in (0..10_000).map(|index| first + f64::from(index)).take_while(|tick| *tick <= last) {
        let x = ruler.origin + tick * ruler.pitch();
        let lettered = (tick / ruler.figures as f64).fract() == 0.0;
        let top = map * Point::new(x, base);
        let length = if lettered { 3.0 } else { 1.6 };
        let outline = crate::drawing::outline::polyline(&[top, top - Vec2::new(0.0, length)]);
        sketch.item(Item::Path { outline, stroke: Some(stroke), fill: None }, Some(figure));
        if lettered {
            let text = rounding::fixed(tick * ruler.step, 0);
            sketch.text((top.x, top.y - 6.2), Anchor::Middle, &text, (Face::Regular, 8.0), Some(figure));
        }
    }
}
