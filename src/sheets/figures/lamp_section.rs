//! One lamp in its seat, cut through across the board: counterbore from the back, flange, lens, both faces.

use core::f64::consts::FRAC_PI_4;

use kurbo::BezPath;

use super::Job;
use super::section::Slice;
use super::view::Section;
use crate::design::board::markers::Marker;
use crate::drawing::{
    Align, Drawing, Importance, Label, Layer, Lettering, LineName, Linear, Note, Pen, Side as DrawingSide, Tip, outline,
};
use crate::model::{Known, Lamp, Missing};
use crate::spec::words::{LensShape, Side};

/// How much of the board is drawn to either side of the counterbore, as a share of its diameter.
const WOOD_BESIDE: f64 = 1.1;

/// The section through a lamp by its number, seen from the saddle toward the nut.
///
/// # Errors
/// With the key that the seat or the lamp's sizes wait for; `lamp.pattern` when there is no such lamp.
pub fn lamp_section(job: &Job<'_>, number: usize) -> Known<Drawing> {
    let seat = Seat::of(job, number)?;
    let marker = seat.marker;
    let section = Section::new(job.hand());
    let place = match marker.side {
        None => "on the centreline".to_owned(),
        Some(side) => format!("{} side", side.word()),
    };
    let title = format!("Lamp {number}, fret {}, {place}", marker.fret);
    let mut drawing = Drawing::new(title, description(number));
    drawing.remark = "seen from the saddle toward the nut".to_owned();
    wood(&mut drawing, &section, &seat);
    lamp(&mut drawing, &section, &seat);
    faces(&mut drawing, &section, &seat);
    heights(job, &mut drawing, &section, &seat);
    widths(job, &mut drawing, &section, &seat);
    names(job, &mut drawing, &section, &seat);
    Ok(drawing)
}

fn description(number: usize) -> String {
    format!(
        "Lamp {number} in its seat, back of the board down: the counterbore is bored from the back; a deeper seat \
         puts the lens higher."
    )
}

/// The lamp's sizes and its seat as it is set.
struct Seat {
    marker: Marker,
    across: f64,
    slice: Slice,
    /// Depth of the counterbore from the back, as set.
    set: f64,
    lead_room: f64,
    wood_above: f64,
    hole: f64,
    lens: f64,
    lens_height: f64,
    domed: bool,
    flange: f64,
    flange_height: f64,
    counterbore: f64,
}

impl Seat {
    fn of(job: &Job<'_>, number: usize) -> Known<Self> {
        let nothing = Missing::faulty("lamp.pattern");
        let (Some(lamps), Some(lamp)) = (&job.design.lamps, &job.model.lamp) else { return Err(nothing) };
        let markers = job.design.markers.as_ref().map_err(|missing| *missing)?;
        let marker = *markers.iter().find(|marker| marker.number == number).ok_or(nothing)?;
        let seats = lamps.seats.as_ref().map_err(|missing| *missing)?;
        let seat = seats.iter().find(|seat| seat.lamp == number).ok_or(nothing)?;
        let layout = job.design.layout.as_ref().map_err(|missing| *missing)?;
        let station = layout.gap_before(marker.fret).ok_or(nothing)?;
        let set = job.set_down(seat.seat?);
        // What the bit leaves undone by the figure that is set stays as wood above and is missing as room below, so that
        // the heights add up.
        let short = seat.seat? - set;
        let sizes = |pick: fn(&Lamp) -> Known<f64>| pick(lamp);
        Ok(Self {
            marker,
            across: marker.middle?.y,
            slice: Slice::at(job, station)?,
            set,
            lead_room: seat.lead_room? - short,
            wood_above: seat.wood_above? + short,
            hole: sizes(|lamp| lamp.hole.mm())?,
            lens: sizes(|lamp| lamp.lens.mm())?,
            lens_height: sizes(|lamp| lamp.lens_height.mm())?,
            domed: lamp.lens_shape.get()? == LensShape::Domed,
            flange: sizes(|lamp| lamp.flange.mm())?,
            flange_height: sizes(|lamp| lamp.flange_height.mm())?,
            counterbore: sizes(|lamp| lamp.counterbore.mm())?,
        })
    }

    /// How much of the board is drawn: from this place across to that one.
    fn window(&self) -> [f64; 2] {
        let reach = self.counterbore * (0.5 + WOOD_BESIDE);
        [
            (self.across - reach).max(-self.slice.half(Side::Bass)),
            (self.across + reach).min(self.slice.half(Side::Treble)),
        ]
    }

    fn lens_top(&self) -> f64 {
        self.set + self.lens_height
    }
}

/// The wood at both sides of hole and counterbore, broken off left and right unless the edge is near.
fn wood(drawing: &mut Drawing, section: &Section, seat: &Seat) {
    let [from, to] = seat.window();
    let (bore, hole) = (seat.counterbore / 2.0, seat.hole / 2.0);
    for (outer, sign) in [(from, -1.0), (to, 1.0)] {
        let (at_bore, at_hole) = (seat.across + sign * bore, seat.across + sign * hole);
        let mut corners = vec![(outer, 0.0), (at_bore, 0.0), (at_bore, seat.set), (at_hole, seat.set)];
        corners.extend(seat.slice.face_between(at_hole, outer));
        let points: Vec<_> = corners.iter().map(|(across, height)| section.at(*across, *height)).collect();
        drawing.hatch(outline::polygon(&points), FRAC_PI_4, 2.2);
        drawing.path(Layer::Outline, outline::polyline(&points), Pen::Visible);
        let edge = seat.slice.half(if sign < 0.0 { Side::Bass } else { Side::Treble }) * sign;
        let pen = if (edge - outer).abs() < 1e-9 { Pen::Visible } else { Pen::Thin };
        let ends = [section.at(outer, 0.0), section.at(outer, seat.slice.face(outer))];
        drawing.line(Layer::Outline, ends[0], ends[1], pen);
    }
}

/// The lamp: lens, flange and the bent leads behind it.
fn lamp(drawing: &mut Drawing, section: &Section, seat: &Seat) {
    let at = |across: f64, height: f64| section.at(seat.across + across, height);
    let (lens, flange) = (seat.lens / 2.0, seat.flange / 2.0);
    let (low, seat_height, top) = (seat.set - seat.flange_height, seat.set, seat.lens_top());
    let mut body = BezPath::new();
    body.move_to(at(-flange, low));
    body.line_to(at(-flange, seat_height));
    body.line_to(at(-lens, seat_height));
    let shoulder = if seat.domed { top - lens.min(seat.lens_height) } else { top };
    body.line_to(at(-lens, shoulder));
    if seat.domed {
        // A quarter circle each side.
        let bow = 0.552_284_75;
        let rise = top - shoulder;
        body.curve_to(at(-lens, shoulder + bow * rise), at(-lens * bow, top), at(0.0, top));
        body.curve_to(at(lens * bow, top), at(lens, shoulder + bow * rise), at(lens, shoulder));
    } else {
        body.line_to(at(lens, top));
    }
    body.line_to(at(lens, seat_height));
    body.line_to(at(flange, seat_height));
    body.line_to(at(flange, low));
    body.close_path();
    drawing.path(Layer::Holes, body, Pen::Thin);
    for side in [-1.0, 1.0] {
        // Each lead leaves the flange and is bent flat in the room behind it.
        let bend = (seat.set - seat.flange_height - seat.lead_room).max(0.0);
        let mut lead = BezPath::new();
        let from = side * flange * 0.35;
        lead.move_to(at(from, low));
        lead.line_to(at(from, low - bend * 0.55));
        lead.quad_to(at(from, low - bend), at(from + side * flange * 0.3, low - bend));
        lead.line_to(at(side * flange * 0.95, low - bend));
        drawing.path(Layer::Holes, lead, Pen::Thin);
    }
    drawing.centre_line(at(0.0, 0.0), at(0.0, top.max(seat.slice.flat_face)));
}

/// The flat face as it was bored, and names of both faces.
fn faces(drawing: &mut Drawing, section: &Section, seat: &Seat) {
    let [from, to] = seat.window();
    let [left, right] = if section.at(from, 0.0).x < section.at(to, 0.0).x { [from, to] } else { [to, from] };
    let flat = seat.slice.flat_face;
    let differs = flat - seat.slice.face(left) > 0.005 || flat - seat.slice.face(right) > 0.005;
    if differs {
        drawing.line(Layer::Hidden, section.at(from, flat), section.at(to, flat), Pen::Hidden);
        let at = section.at(left + (right - left) * 0.14, flat);
        let label = Label::new(at, "flat face").tip(Tip::Arrow).toward(DrawingSide::Top);
        drawing.label(label.importance(Importance::High));
    }
    let across = right + (left - right) * 0.12;
    let at = section.at(across, seat.slice.face(across));
    let label = Label::new(at, "finished face").tip(Tip::Arrow).toward(DrawingSide::Top);
    drawing.label(label.importance(Importance::High));
}

/// Seat, room behind the flange, lens, wood over the flange, how far the lens stands proud.
fn heights(job: &Job<'_>, drawing: &mut Drawing, section: &Section, seat: &Seat) {
    let [from, to] = seat.window();
    let mut ends = [from, to];
    ends.sort_by(|one, two| section.at(*one, 0.0).x.total_cmp(&section.at(*two, 0.0).x));
    let [left, right] = ends;
    let right_sign = section.right().toward_treble();
    let bore = |sign: f64| seat.across + sign * seat.counterbore / 2.0;
    let length = |height: f64| job.length(height);
    // The one figure the stop is set to.
    drawing.dimension(
        Linear::outside(
            section.at(left, 0.0),
            section.at(bore(-right_sign), seat.set),
            DrawingSide::Left,
            length(seat.set),
        )
        .lettering(Lettering::STRONG),
    );
    let low = seat.set - seat.flange_height;
    if seat.lead_room > 0.0 {
        let flange = seat.across + right_sign * seat.flange / 2.0;
        drawing.dimension(Linear::outside(
            section.at(right, 0.0),
            section.at(flange, seat.lead_room.min(low)),
            DrawingSide::Right,
            format!("{} room for wires", length(seat.lead_room)),
        ));
    }
    // Wood is thinnest over the rim of the counterbore that lies toward the edge.
    let outward = if seat.across < 0.0 { -1.0 } else { 1.0 };
    let rim = bore(outward);
    let face = seat.slice.face(rim);
    let side =
        if section.at(rim, 0.0).x >= section.at(seat.across, 0.0).x { DrawingSide::Right } else { DrawingSide::Left };
    drawing.dimension(Linear::near(
        section.at(rim, seat.set),
        section.at(rim, face),
        side,
        5.0,
        length(seat.wood_above),
    ));
    let thickness = seat.slice.thickness;
    if (seat.slice.face(right) - thickness).abs() > 1e-9 || seat.across.abs() < 1e-9 {
        drawing.dimension(Linear::outside(
            section.at(right, 0.0),
            section.at(seat.across + right_sign * seat.lens / 2.0, seat.lens_top()),
            DrawingSide::Right,
            format!("{} lens top", length(seat.lens_top())),
        ));
    }
}

/// Diameters of counterbore and hole.
fn widths(job: &Job<'_>, drawing: &mut Drawing, section: &Section, seat: &Seat) {
    let pair =
        |diameter: f64, height: f64| [-1.0, 1.0].map(|side| section.at(seat.across + side * diameter / 2.0, height));
    let [from, to] = pair(seat.counterbore, 0.0);
    let text = format!("Ø {}", job.length(seat.counterbore));
    drawing.dimension(Linear::outside(from, to, DrawingSide::Bottom, text));
    let face = seat.slice.face(seat.across);
    let [from, to] = pair(seat.hole, face);
    drawing.dimension(Linear::outside(from, to, DrawingSide::Top, format!("Ø {}", job.length(seat.hole))));
}

fn names(job: &Job<'_>, drawing: &mut Drawing, section: &Section, seat: &Seat) {
    let [from, to] = seat.window();
    drawing.name_line(LineName {
        from: section.at(from, 0.0),
        to: section.at(to, 0.0),
        side: DrawingSide::Bottom,
        text: "BACK, datum".to_owned(),
        lettering: Lettering::STRONG,
        importance: Importance::Utmost,
    });
    let over = seat.lens_top() - seat.slice.flat_face;
    let place = if over < 0.0 { "under" } else { "over" };
    // A dome touches that height on its axis only.
    let beside = if seat.domed { 0.0 } else { seat.lens * 0.3 };
    let lens = section.at(seat.across + section.right().toward_treble() * beside, seat.lens_top());
    let text = format!("lens {} {place} the flat face", job.length(over.abs()));
    drawing.label(Label::new(lens, text).tip(Tip::Arrow).toward(DrawingSide::Top).importance(Importance::High));
    drawing.note(Note {
        side: DrawingSide::Left,
        align: Align::End,
        text: "DEEPER = LENS HIGHER".to_owned(),
        lettering: Lettering::STRONG,
        arrow: Some(DrawingSide::Top),
        importance: Importance::Utmost,
    });
    if seat.across.abs() > 1e-9 {
        for (side, align) in [(section.left(), Align::Start), (section.right(), Align::End)] {
            drawing.note(Note {
                side: DrawingSide::Bottom,
                align,
                text: format!("toward {}", side.word()),
                lettering: Lettering::NORMAL,
                arrow: None,
                importance: Importance::High,
            });
        }
    }
}
