//! Turns places into marks: texts, leaders, dimension lines, arrows; then heading, key and the picture's corner.

use kurbo::{Line, Point, Rect, Vec2};

use super::choices::{Choice, DOT, End, note_parts};
use super::key;
use super::layout::{Layout, to_paper};
use super::linear::RowedLinear;
use super::marks::{PlacedMarks, arrowhead, stroked, unit};
use super::ordinates::RING as DATUM_RING;
use super::texts::{Placed, Subject, Written, hatching_clear_of};
use crate::drawing::annotation::AngleBetween;
use crate::drawing::item::{Anchor, Item, Text};
use crate::drawing::outline::{bounds, circle, straight_pieces};
use crate::drawing::picture::{KeyEntry, LayerItems, Picture};
use crate::drawing::scale::{Scale, Scaling};
use crate::drawing::style::{Layer, Lettering, Pen};
use crate::drawing::textbox::TextBox;
use crate::drawing::{Drawing, Fill, Room};
use crate::lettering::Face;

const TITLE: Lettering = Lettering { face: Face::Bold, size: 11.0 };
const REMARK: Lettering = Lettering { face: Face::Regular, size: 9.0 };
/// Height of one row of the heading, and the gap under it.
const HEADING_ROW: f64 = 5.5;
const UNDER_HEADING: f64 = 2.5;
const AFTER_TITLE: f64 = 3.5;

/// All marks of a drawing, about its own zero point.
pub(super) fn items(layout: &Layout<'_>, shapes: PlacedMarks, placed: Vec<Placed<'_>>) -> Written {
    let mut items = Vec::new();
    let mut key = Vec::new();
    for ordinates in &layout.ordinates {
        for line in &ordinates.lines {
            items.push((Layer::Dimensions, stroked(line, Pen::Thin.stroke())));
        }
        if let Some(at) = ordinates.ring {
            let stroke = Some(Pen::Thin.stroke());
            let ring = Item::Path { outline: circle(at, DATUM_RING), stroke, fill: Some(Fill::White) };
            items.push((Layer::Dimensions, ring));
        }
        for (text, lettering, place) in &ordinates.texts {
            items.push((Layer::Dimensions, set_in(place, text, *lettering)));
        }
    }
    for one in &placed {
        match one.subject {
            Subject::Linear(rowed) => dimension_lines(rowed, &layout.extensions(rowed), &mut items),
            Subject::Angle(angle) => angle_arc(angle, layout.factors, &mut items),
            _ => {}
        }
        if let Some(number) = one.number {
            let marked = one.choice.is_some();
            let text = one.subject.text();
            let text = if marked { text.to_owned() } else { format!("{text} (no room to mark its place)") };
            key.push(KeyEntry { number, text, marked });
        }
        if let Some(choice) = &one.choice {
            written(one, choice, &mut items);
        }
    }
    key.sort_by_key(|entry| entry.number);
    let texts: Vec<TextBox> = items
        .iter()
        .chain(&shapes.items)
        .filter_map(|(_, item)| match item {
            Item::Text(text) => Some(TextBox::of(text)),
            Item::Path { .. } => None,
        })
        .collect();
    let hatching = hatching_clear_of(&shapes, &texts);
    let mut all = Vec::with_capacity(items.len() + shapes.items.len() + 1);
    if !hatching.is_empty() {
        all.push((Layer::Hatching, hatched(&hatching)));
    }
    all.extend(shapes.items);
    all.extend(items);
    Written { items: all, key }
}

fn hatched(lines: &[Line]) -> Item {
    let mut outline = kurbo::BezPath::new();
    for line in lines {
        outline.move_to(line.p0);
        outline.line_to(line.p1);
    }
    Item::Path { outline, stroke: Some(Pen::Hatching.stroke()), fill: None }
}

/// A text with its leader, or its number with it.
fn written(placed: &Placed<'_>, choice: &Choice, items: &mut Vec<(Layer, Item)>) {
    let subject = placed.subject;
    if choice.leader.len() > 1 {
        items.push((Layer::Dimensions, stroked(&choice.leader, Pen::Thin.stroke())));
    }
    match choice.end {
        End::Nothing => {}
        End::Arrow(tip, toward) => items.push((Layer::Dimensions, arrowhead(tip, toward))),
        End::Dot(at) => {
            let outline = circle(at, DOT);
            items.push((Layer::Dimensions, Item::Path { outline, stroke: None, fill: Some(Fill::Black) }));
        }
    }
    if let Some(number) = placed.number {
        items.extend(key::ringed(number, choice.place.centre));
        return;
    }
    let layer = match subject {
        Subject::Linear(_) | Subject::Round(_) | Subject::Angle(_) => Layer::Dimensions,
        Subject::Label(_) | Subject::LineName(_) | Subject::Note(_) => Layer::Text,
    };
    let mut place = choice.place;
    if let Subject::Note(note) = subject {
        let (text, arrow) = note_parts(note, &place);
        place = text;
        if let Some((from, to)) = arrow {
            items.push((Layer::Text, stroked(&[from, to - unit(to - from) * 1.5], Pen::Visible.stroke())));
            items.push((Layer::Text, arrowhead(to, to - from)));
        }
    }
    items.push((layer, set_in(&place, subject.text(), subject.lettering())));
}

/// A text set to fill its box.
fn set_in(place: &TextBox, text: &str, lettering: Lettering) -> Item {
    Item::Text(Text {
        at: place.baseline(text, lettering),
        text: text.to_owned(),
        face: lettering.face,
        size: lettering.size,
        anchor: Anchor::Middle,
        angle: libm::atan2(place.along.y, place.along.x),
        white: false,
    })
}

fn dimension_lines(rowed: &RowedLinear<'_>, extensions: &[Line], items: &mut Vec<(Layer, Item)>) {
    let pen = Pen::Thin.stroke();
    for line in extensions {
        items.push((Layer::Dimensions, stroked(&[line.p0, line.p1], pen)));
    }
    let line = rowed.line();
    items.push((Layer::Dimensions, stroked(&[line.p0, line.p1], pen)));
    let along = rowed.along();
    let inward = if rowed.arrows_outside() { along } else { -along };
    items.push((Layer::Dimensions, arrowhead(rowed.ends[0], inward)));
    items.push((Layer::Dimensions, arrowhead(rowed.ends[1], -inward)));
}

/// The arc of an angle in straight pieces, then its two rays.
pub(super) fn angle_lines(angle: &AngleBetween, factors: Scale) -> Vec<Line> {
    const PIECES: u32 = 16;
    let vertex = to_paper(angle.vertex, factors);
    let (from, to) = (to_paper(angle.from, factors) - vertex, to_paper(angle.to, factors) - vertex);
    let start = libm::atan2(from.y, from.x);
    let mut sweep = libm::atan2(to.y, to.x) - start;
    if sweep < 0.0 {
        sweep += std::f64::consts::TAU;
    }
    let on_arc = |step: u32| {
        let turn = start + sweep * f64::from(step) / f64::from(PIECES);
        vertex + Vec2::new(libm::cos(turn), libm::sin(turn)) * angle.radius
    };
    let arc = (0..PIECES).map(|step| Line::new(on_arc(step), on_arc(step + 1)));
    let rays = [from, to].map(|ray| Line::new(vertex, vertex + unit(ray) * (angle.radius + 1.5)));
    arc.chain(rays).collect()
}

fn angle_arc(angle: &AngleBetween, factors: Scale, items: &mut Vec<(Layer, Item)>) {
    let lines = angle_lines(angle, factors);
    let (arc, rays) = lines.split_at(lines.len() - 2);
    let points: Vec<Point> = arc.iter().map(|piece| piece.p0).chain(arc.last().map(|piece| piece.p1)).collect();
    items.push((Layer::Dimensions, stroked(&points, Pen::Thin.stroke())));
    for ray in rays {
        items.push((Layer::Dimensions, stroked(&[ray.p0, ray.p1], Pen::Thin.stroke())));
    }
    if let (Some(first), Some(last)) = (arc.first(), arc.last()) {
        items.push((Layer::Dimensions, arrowhead(first.p0, first.p0 - first.p1)));
        items.push((Layer::Dimensions, arrowhead(last.p1, last.p1 - last.p0)));
    }
}

/// Title, and what follows it: scale and remark.
fn heading(drawing: &Drawing, scale: Option<Scale>) -> (String, String) {
    let scale = scale.map(Scale::text);
    let parts: Vec<&str> =
        scale.as_deref().into_iter().chain([drawing.remark.as_str()]).filter(|part| !part.is_empty()).collect();
    (drawing.title.clone(), parts.join(", "))
}

/// Rows the heading takes in a width.
fn heading_rows(title: &str, remark: &str, width: f64) -> f64 {
    if title.is_empty() {
        0.0
    } else if remark.is_empty() || TITLE.width(title) + AFTER_TITLE + REMARK.width(remark) <= width {
        1.0
    } else {
        2.0
    }
}

/// Height kept for the heading while the scale is not known.
pub(super) fn heading_height(drawing: &Drawing, width: f64) -> f64 {
    let guess = match drawing.scaling {
        Scaling::Scheme => None,
        Scaling::Stretched => Some(Scale { along: 0.4, across: 1.0 }),
        Scaling::Standard | Scaling::Width | Scaling::Given(_) => Some(Scale::uniform(0.4)),
    };
    let (title, remark) = heading(drawing, guess);
    let rows = heading_rows(&title, &remark, width);
    if rows > 0.0 { rows * HEADING_ROW + UNDER_HEADING } else { 0.0 }
}

/// Adds heading and key, and moves everything so that the picture's bottom left corner is the zero point.
pub(super) fn finish(drawing: &Drawing, factors: Scale, written: Written, room: Room) -> Picture {
    let scale = if drawing.scaling == Scaling::Scheme { None } else { Some(factors) };
    let (title, remark) = heading(drawing, scale);
    let rows = heading_rows(&title, &remark, room.width);
    let mut head: Vec<(Layer, Item)> = Vec::new();
    if rows > 0.0 {
        let at = |row: f64, x: f64| Point::new(x, -(row + 0.5) * HEADING_ROW);
        head.push((Layer::Text, Item::Text(key::text(&title, TITLE, at(0.0, 0.0), Anchor::Start))));
        if !remark.is_empty() {
            let place = if rows > 1.5 { at(1.0, 0.0) } else { at(0.0, TITLE.width(&title) + AFTER_TITLE) };
            head.push((Layer::Text, Item::Text(key::text(&remark, REMARK, place, Anchor::Start))));
        }
    }
    let head_height = if rows > 0.0 { rows * HEADING_ROW + UNDER_HEADING } else { 0.0 };
    let body = extent(&written.items);
    let foot = key::items(&written.key, room.width);
    let foot_height = key::height(&written.key, room.width);
    let width = [body.width(), extent(&head).x1, extent(&foot).x1].into_iter().fold(0.0, f64::max);
    let height = body.height() + head_height + foot_height;

    let shift = Vec2::new((width - body.width()) / 2.0 - body.x0, foot_height - body.y0);
    // The key's last row ends at the picture's lower edge.
    let foot_shift = Vec2::new(0.0, foot_height - KEY_DROP);
    let all = moved(written.items, shift)
        .chain(moved(head, Vec2::new(0.0, height)))
        .chain(moved(foot, foot_shift))
        .collect::<Vec<_>>();
    let layers = Layer::ALL
        .iter()
        .filter_map(|layer| {
            let items: Vec<Item> = all.iter().filter(|(of, _)| of == layer).map(|(_, item)| item.clone()).collect();
            (!items.is_empty()).then_some(LayerItems { layer: *layer, items })
        })
        .collect();
    Picture {
        width,
        height,
        layers,
        title: drawing.title.clone(),
        alt: drawing.description.clone(),
        scale,
        factors,
        origin: shift.to_point(),
        key: written.key,
    }
}

/// From the top of the key's room to its first row.
const KEY_DROP: f64 = 2.5;

fn moved(items: Vec<(Layer, Item)>, shift: Vec2) -> impl Iterator<Item = (Layer, Item)> {
    items.into_iter().map(move |(layer, item)| (layer, item.shifted(shift)))
}

/// The box of some marks, pens and all.
fn extent(items: &[(Layer, Item)]) -> Rect {
    let corners = items.iter().flat_map(|(_, item)| {
        let bounds = match item {
            Item::Text(text) => TextBox::of(text).bounds(),
            Item::Path { outline, stroke, .. } => {
                let half_pen = stroke.map_or(0.0, |stroke| stroke.width / 2.0);
                let points = straight_pieces(outline, 0.02).into_iter().flat_map(|piece| [piece.p0, piece.p1]);
                bounds(points).unwrap_or(Rect::ZERO).inflate(half_pen, half_pen)
            }
        };
        [Point::new(bounds.x0, bounds.y0), Point::new(bounds.x1, bounds.y1)]
    });
    bounds(corners).unwrap_or(Rect::ZERO)
}
