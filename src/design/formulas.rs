//! The formulas of the board and its lamps, each in its one home.
//!
//! Sources: the law of equal temperament (each step multiplies the frequency by 2^(1/D)); the height of a circular
//! segment; Ohm's law; plane geometry. Where none is named, the formula is derived from the picture on its sheet.

use core::f64::consts::PI;

use libm::{cos, exp2, log2, sqrt, tan};

use super::formula::formulas;
use crate::geom::sagitta;

formulas! {
    /// Share of the scale between the zero line and a fret, by equal temperament.
    share_of_scale(fret: "", steps: "") -> "" = 1.0 - exp2(-fret / steps);

    /// Run of an outer string along the centreline, its scale being measured along the string.
    run_along_centreline(scale: "mm", widening: "mm") -> "mm" = sqrt(scale * scale - widening * widening);

    /// Where an outer bass string starts, so that the square fret stands square; the treble string starts as far on the other side of the zero line.
    start_of_bass_string(share_at_square: "", run_bass: "mm", run_treble: "mm") -> "mm" = -share_at_square * (run_bass - run_treble) / 2.0;

    /// A place on a string by its share of the run.
    place_on_run(start: "mm", share: "", run: "mm") -> "mm" = start + share * run;

    /// Length that still sounds at a fret.
    sounding_length(scale: "mm", fret: "", steps: "") -> "mm" = scale * exp2(-fret / steps);

    /// Width of the band within 1.5 cents of true to either side.
    true_band(sounding: "mm") -> "mm" = sounding * (exp2(1.5 / 1200.0) - exp2(-1.5 / 1200.0));

    /// Cents by which a note is off when its fret is misplaced.
    cents_off(sounding: "mm", error: "mm") -> "cent" = 1200.0 * log2(sounding / (sounding - error));

    /// Half width of the finished board at a place.
    half_width(at_zero: "mm", growth: "", place: "mm") -> "mm" = at_zero + growth * place;

    /// An inset measured square to the edge, as it is measured square to the centreline.
    inset_across(inset: "mm", taper: "rad") -> "mm" = inset / cos(taper);

    /// Radius of a cone's face at a place.
    cone_radius(at_nut: "mm", at_end: "mm", place: "mm", end_place: "mm") -> "mm" = at_nut + (at_end - at_nut) * place / end_place;

    /// Height of the radiused face over the back, off the centreline.
    face_height(thickness: "mm", radius: "mm", across: "mm") -> "mm" = thickness - sagitta(radius, across);

    /// Depth of a slot with a straight bottom: the tang still fits at the slot's ends, where the radius takes most off.
    straight_slot_depth(tang_depth: "mm", under_tang: "mm", drop_at_ends: "mm", skim: "mm") -> "mm" = tang_depth + under_tang + drop_at_ends + skim;

    /// Depth of a slot whose bottom follows the radius.
    following_slot_depth(tang_depth: "mm", under_tang: "mm", skim: "mm") -> "mm" = tang_depth + under_tang + skim;

    /// Wood between a straight slot bottom and the back.
    wood_under_straight(thickness: "mm", skim: "mm", depth: "mm") -> "mm" = thickness + skim - depth;

    /// Wood between a bottom that follows the radius and the back, off the centreline.
    wood_under_following(thickness: "mm", drop: "mm", tang_depth: "mm", under_tang: "mm") -> "mm" = thickness - drop - (tang_depth + under_tang);

    /// Wood between a slot and a channel under it.
    wood_to_channel(wood_under: "mm", channel_depth: "mm") -> "mm" = wood_under - channel_depth;

    /// What a slot with a straight bottom leaves open under the tang in the middle, where the face is highest.
    open_under_tang(under_tang: "mm", drop_at_ends: "mm") -> "mm" = under_tang + drop_at_ends;

    /// Share of the board that a slot cuts through, the skim still on.
    share_cut_through(depth: "mm", thickness: "mm", skim: "mm") -> "" = depth / (thickness + skim);

    /// Slot left at the edge once the face is radiused.
    slot_left_at_edge(depth: "mm", skim: "mm", drop: "mm") -> "mm" = depth - skim - drop;

    /// What radiusing takes off the edge, the skim with it.
    taken_off_edge(drop: "mm", skim: "mm") -> "mm" = drop + skim;

    /// Stop for a slot: from the squared end to the near face of the blade.
    stop_for_slot(from_end: "mm", kerf: "mm") -> "mm" = from_end - kerf / 2.0;

    /// Seat of a lamp's flange over the back: the lens comes up to the face, proud of it all round.
    lamp_seat(thickness: "mm", drop_at_high_side: "mm", proud: "mm", lens_height: "mm") -> "mm" = thickness - drop_at_high_side + proud - lens_height;

    /// Room for the leads behind a lamp's flange.
    lead_room(seat: "mm", flange_height: "mm", lead_bend: "mm") -> "mm" = seat - flange_height - lead_bend;

    /// Wood above the flange at its thinnest: half a counterbore toward the edge.
    wood_above_flange(thickness: "mm", drop_at_rim: "mm", seat: "mm") -> "mm" = thickness - drop_at_rim - seat;

    /// Most that is sanded off a lens: on its low side.
    most_sanded(seat: "mm", lens_height: "mm", thickness: "mm", drop_at_low_side: "mm") -> "mm" = seat + lens_height - (thickness - drop_at_low_side);

    /// What a dummy lamp reads over the flat face before radiusing; minus: below it.
    dummy_reading(seat: "mm", lens_height: "mm", thickness: "mm", skim: "mm") -> "mm" = seat + lens_height - thickness - skim;

    /// Voltage that a group of lamps in series takes.
    group_drop(lamps: "", forward: "V") -> "V" = lamps * forward;

    /// Resistor that sets the wanted current, before it is raised to a preferred number.
    exact_resistor(supply: "V", drop: "V", current: "A") -> "ohm" = (supply - drop) / current;

    /// Current of a group at a supply; below zero means dark.
    group_current(supply: "V", drop: "V", resistor: "ohm") -> "A" = (supply - drop) / resistor;

    /// Heat in a resistor.
    resistor_heat(current: "A", resistor: "ohm") -> "W" = current * current * resistor;

    /// Share of the supply that is left for the resistor of a group, in hundredths: little of it, and the brightness swings with the battery.
    share_for_resistor(supply: "V", drop: "V") -> "%" = 100.0 * (supply - drop) / supply;

    /// How much less the dimmest group gets than the brightest, in hundredths of the brightest.
    difference_of_currents(most: "A", least: "A") -> "%" = 100.0 * (most - least) / most;

    /// Share of the supply that is lost in the wire, in hundredths, when all the current goes through all of it. Length in millimetres.
    share_lost_in_wire(current: "A", ohm_per_metre: "ohm/m", length: "mm", supply: "V") -> "%" = 100.0 * current * ohm_per_metre * length / 1000.0 / supply;

    /// Hours that a battery lasts.
    hours(capacity: "Ah", current: "A") -> "h" = capacity / current;

    /// Section of a round: a wire, a flange, a counterbore.
    round_area(diameter: "mm") -> "mm²" = PI / 4.0 * diameter * diameter;

    /// Share of a channel's section that its wires fill, in hundredths.
    fill_of_channel(wires: "", wire_area: "mm²", width: "mm", depth: "mm") -> "%" = 100.0 * wires * wire_area / (width * depth);

    /// Share of the exit hole that its wires take, each as a square, in hundredths.
    fill_of_exit(wires: "", wire: "mm", hole: "mm") -> "%" = 100.0 * wires * wire * wire / (hole * hole);

    /// Volume to be poured: channels and seats less what already lies in them.
    net_volume(channels: "mm³", seats: "mm³", flanges: "mm³", wire: "mm³") -> "mm³" = channels + seats - flanges - wire;

    /// Epoxy to be mixed, in millilitres.
    epoxy_mix(net: "mm³", allowance: "") -> "ml" = net * (1.0 + allowance) / 1000.0;

    /// Most epoxy that is mixed at once, by the millilitres that are poured in a minute. Five minutes go by before the first drop. Common practice, no source.
    largest_batch(poured: "ml/min", pot_life: "min") -> "ml" = poured * (pot_life - 5.0);

    /// A piece of fret wire before it is rounded up.
    wire_piece(length: "mm", overhang: "mm", ends: "") -> "mm" = length + overhang * ends;

    /// Radius a fret is bent to before it is seated: a little tighter than the ellipse it lies on. Common practice, no source: 0.85 to 0.95.
    bend_radius(radius: "mm", slant: "rad") -> "mm" = 0.9 * radius / (cos(slant) * cos(slant));

    /// How much flatter than the board's radius a slanted fret lies: along a slant of the angle θ the circle is an ellipse, and 1/cos²θ as flat at its top.
    flatter_along_slant(slant: "rad") -> "%" = 100.0 * (1.0 / (cos(slant) * cos(slant)) - 1.0);

    /// Clear gap between neighbouring strings at equal gaps.
    string_gap(spread: "mm", inner_gauges: "mm", outer_half_gauges: "mm", gaps: "") -> "mm" = (spread - inner_gauges - outer_half_gauges) / gaps;

    /// A distance across, as it is measured along a slanted nut or saddle.
    along_slant(across: "mm", slant: "rad") -> "mm" = across / cos(slant);

    /// Frequency of a note by its count of semitones, A4 = 69 = 440 Hz (ISO 16).
    note_frequency(semitone: "") -> "Hz" = 440.0 * exp2((semitone - 69.0) / 12.0);

    /// Weight per length of a solid round wire, density in grams per cubic centimetre.
    solid_weight(density: "g/cm³", diameter: "mm") -> "g/m" = density * PI / 4.0 * diameter * diameter;

    /// Tension of a string: from the law of the vibrating string. Length in millimetres, weight in grams per metre.
    string_tension(weight: "g/m", length: "mm", frequency: "Hz") -> "N" = weight / 1000.0 * (2.0 * length / 1000.0 * frequency) * (2.0 * length / 1000.0 * frequency);

    /// Wood between the rod's slot and the back of the neck, on the centreline.
    wood_under_rod(thickness: "mm", board_thickness: "mm", rod_depth: "mm") -> "mm" = thickness - board_thickness - rod_depth;

    /// The same at the slot's corner, the back being a half-ellipse as deep as the neck's wood and as wide as the board.
    wood_under_rod_corner(neck_depth: "mm", half_width: "mm", rod_width: "mm", rod_depth: "mm") -> "mm" = neck_depth * sqrt(1.0 - rod_width / (2.0 * half_width) * (rod_width / (2.0 * half_width))) - rod_depth;

    /// Wood between a screw's tip and the glue face of the heel.
    wood_at_screw_tip(heel_thickness: "mm", screw_depth: "mm") -> "mm" = heel_thickness - screw_depth;

    /// How much higher the strings arrive at the bridge because the neck leans back.
    rise_of_neck_angle(past_end: "mm", angle: "rad") -> "mm" = past_end * tan(angle);

    /// Action at the bridge: the strings go on rising past the twelfth fret as they rose from the first.
    action_beyond(action_12: "mm", action_1: "mm", past_12: "mm", from_1_to_12: "mm") -> "mm" = action_12 + (action_12 - action_1) * past_12 / from_1_to_12;

    /// Height of the strings over the body's face at the saddle line, on the centreline.
    height_at_bridge(heel_thickness: "mm", pocket_depth: "mm", board_thickness: "mm", crown_height: "mm", rise: "mm", action: "mm") -> "mm" = heel_thickness - pocket_depth + board_thickness + crown_height + rise + action;

    /// How many pieces lie side by side in a billet, with what the saw takes between them; a part of one is none.
    pieces_in_billet(billet: "mm", piece: "mm", saw: "mm") -> "" = (billet + saw) / (piece + saw);
}

#[cfg(test)]
#[allow(clippy::disallowed_methods, reason = "a second opinion takes its own cosine")]
mod tests {
    use evalexpr::{ContextWithMutableFunctions, ContextWithMutableVariables, Function, HashMapContext, Value};

    use super::*;

    /// The printed formula in the evaluator's own spelling.
    fn as_written_for_the_evaluator(printed: &str) -> String {
        printed
            .replace('·', "*")
            .replace('−', "-")
            .replace('√', "root")
            .replace("2^", "2.0^")
            .replace('π', "3.141592653589793")
    }

    #[test]
    fn every_printed_formula_gives_the_number_it_explains() {
        // Second opinion: a general expression evaluator that knows nothing of the program.
        let numbers = [3.25, 1.75, 0.625, 0.5, 0.375, 0.875];
        for formula in FORMULAS {
            let mut context = HashMapContext::new();
            let number = |f: fn(f64) -> f64| Function::new(move |v: &Value| Ok(Value::Float(f(v.as_number()?))));
            context.set_function("root".into(), number(f64::sqrt)).unwrap();
            context.set_function("cos".into(), number(f64::cos)).unwrap();
            context.set_function("tan".into(), number(f64::tan)).unwrap();
            context.set_function("log2".into(), number(f64::log2)).unwrap();
            let drop = Function::new(|v: &Value| {
                let pair = v.as_fixed_len_tuple(2)?;
                let (r, y) = (pair[0].as_number()?, pair[1].as_number()?);
                Ok(Value::Float(r - (r * r - y * y).sqrt()))
            });
            context.set_function("sagitta".into(), drop).unwrap();
            let mut text = as_written_for_the_evaluator(&formula.printed());
            let mut inputs: Vec<_> =
                formula.inputs.iter().map(|(name, _)| name.replace('_', " ")).zip(numbers).collect();
            // Longest first, because "place" is also a part of "end place".
            inputs.sort_by_key(|(name, _)| std::cmp::Reverse(name.len()));
            for (index, (name, value)) in inputs.into_iter().enumerate() {
                let symbol = format!("input{index}");
                text = with_symbol(&text, &name, &symbol);
                context.set_value(symbol, Value::Float(value)).unwrap();
            }
            let expected = evalexpr::eval_number_with_context(&text, &context)
                .unwrap_or_else(|error| panic!("{}: {text}: {error}", formula.name));
            let got = (formula.evaluate)(&numbers[..formula.inputs.len()]);
            assert!((got - expected).abs() <= 1e-9 * expected.abs().max(1.0), "{}: {got} != {expected}", formula.name);
        }
    }

    /// Replaces a name where it stands as a whole word.
    fn with_symbol(text: &str, name: &str, symbol: &str) -> String {
        let mut out = String::new();
        let mut rest = text;
        while let Some(at) = rest.find(name) {
            let before = rest[..at].chars().next_back();
            let after = rest[at + name.len()..].chars().next();
            let whole =
                !before.is_some_and(char::is_alphanumeric) && !after.is_some_and(|c| c.is_alphanumeric() || c == '(');
            out.push_str(&rest[..at]);
            out.push_str(if whole { symbol } else { name });
            rest = &rest[at + name.len()..];
        }
        out + rest
    }

    #[test]
    fn names_are_given_once() {
        let mut names: Vec<_> = FORMULAS.iter().map(|formula| formula.name).collect();
        names.sort_unstable();
        names.dedup();
        assert_eq!(names.len(), FORMULAS.len());
    }
}
