//! Figures that others have published, each with its source and the tolerance that its print allows.

use kerfbook::catalog::{self, Series, awg, inches, series};
use kerfbook::design::formulas;
use kerfbook::geom::sagitta;
use kerfbook::paper::Paper;

fn assert_near(got: f64, published: f64, tolerance: f64, what: &str) {
    assert!((got - published).abs() <= tolerance, "{what}: {got}, published {published} ± {tolerance}");
}

#[test]
fn frets_sound_the_notes_of_equal_temperament() {
    // Note frequencies of twelve-step equal temperament for A4 = 440 Hz (ISO 16:1975), as three published libraries
    // of music give them to nine decimals. Open strings also printed in OpenStax, University Physics Vol. 1,
    // section 16.3: 82.41, 110.00, 146.83, 196.00, 246.94, 329.63 Hz.
    const E4: [f64; 25] = [
        329.627556913,
        349.228231433,
        369.994422712,
        391.995435982,
        415.304697580,
        440.000000000,
        466.163761518,
        493.883301256,
        523.251130601,
        554.365261954,
        587.329535835,
        622.253967444,
        659.255113826,
        698.456462866,
        739.988845423,
        783.990871963,
        830.609395160,
        880.000000000,
        932.327523036,
        987.766602512,
        1046.502261202,
        1108.730523907,
        1174.659071670,
        1244.507934888,
        1318.510227651,
    ];
    const OPEN: [(f64, f64); 6] = [
        (82.406889228, 82.41),
        (110.0, 110.00),
        (146.832383959, 146.83),
        (195.997717991, 196.00),
        (246.941650628, 246.94),
        (E4[0], 329.63),
    ];
    for (fret, hertz) in (0_u32..).zip(E4) {
        // A string stopped at a share s of its length sounds 1/(1 − s) times as high.
        let share = formulas::share_of_scale(f64::from(fret), 12.0);
        assert_near(E4[0] / (1.0 - share), hertz, 1e-8, &format!("fret {fret} of E4"));
    }
    for (open, printed) in OPEN {
        assert_near(open, printed, 0.005, "open string");
    }
    // Each string of the usual tuning, stopped, sounds the next open one: at the fifth fret, the third string at the fourth.
    for (pair, fret) in OPEN.windows(2).zip([5.0, 5.0, 5.0, 4.0, 5.0]) {
        let stopped = pair[0].0 / (1.0 - formulas::share_of_scale(fret, 12.0));
        assert_near(stopped, pair[1].0, 1e-8, "stopped string");
    }
}

#[test]
fn places_along_the_scale_are_those_of_the_law_and_not_of_the_old_rule() {
    // Worked from the definition (semitone 2^(1/12)) to the micrometre for 25.5 in = 647.7 mm.
    let scale = 647.7;
    let place = |fret: f64| formulas::place_on_run(0.0, formulas::share_of_scale(fret, 12.0), scale);
    assert_near(place(1.0), 36.352_607_676, 1e-8, "fret 1");
    assert_near(place(12.0), 323.85, 1e-9, "fret 12");
    assert_near(place(24.0), 485.775, 1e-9, "fret 24");
    // The rule of the eighteenth: each gap is a part of what is left. Published: its step is 98.95459 cents
    // (Xenharmonic Wiki, 18/17), so its octave stands 2.355209 mm too near the nut.
    let chained = |divisor: f64, fret: i32| scale * (1.0 - (1.0 - 1.0 / divisor).powi(fret));
    assert_near(1200.0 * (18.0_f64 / 17.0).log2(), 98.954_59, 5e-6, "18/17 in cents");
    assert_near(place(12.0) - chained(18.0, 12), 2.355_209, 1e-6, "octave by the rule of 18");
    assert_near(place(1.0) - chained(18.0, 1), 36.352_607_676 - 35.983_333_333, 1e-8, "fret 1 by the rule of 18");
    // The usual rounding of 1/(1 − 2^(−1/12)) = 17.817153745: chained, it carries the 24th fret 1.994 µm astray.
    let exact = 1.0 / formulas::share_of_scale(1.0, 12.0);
    assert_near(exact, 17.817_153_745_105_767, 1e-12, "the constant");
    assert_near(chained(17.817, 24) - place(24.0), 0.001_994_054, 1e-8, "fret 24 by 17.817");
}

#[test]
fn the_bench_knows_the_first_two_frets_of_a_common_scale() {
    // Common practice, no source: frets 1 and 2 of a 25.5 in scale at 36.353 and 70.665 mm; a builder who chains gaps
    // rounded to half a millimetre may be a quarter of one off at each.
    let place = |fret: f64| 647.7 * formulas::share_of_scale(fret, 12.0);
    assert_near(place(1.0), 36.353, 0.000_5, "fret 1");
    assert_near(place(2.0), 70.665, 0.000_5, "fret 2");
}

#[test]
fn the_height_of_a_segment_is_as_printed() {
    // Two printed examples (bit1024.com, arc height calculator: radius, chord, height); the rest worked to 30 digits.
    for (radius, chord, height, tolerance) in [
        (10.0, 12.0, 2.0, 1e-12),
        (15.0, 20.0, 3.82, 0.005),
        (184.15, 43.0, 1.259_397_453_013, 1e-11),
        (254.0, 56.0, 1.548_024_368_990, 1e-11),
        (304.8, 52.0, 1.110_948_501_596, 1e-11),
        (355.6, 40.0, 0.562_875_180_637, 1e-11),
        (406.4, 56.0, 0.965_714_325_984, 1e-11),
        (508.0, 43.0, 0.455_174_393_434, 1e-11),
    ] {
        assert_near(sagitta(radius, chord / 2.0), height, tolerance, &format!("radius {radius}, chord {chord}"));
    }
}

#[test]
fn an_inch_in_64ths_is_as_the_tables_print_it() {
    // 1 in = 25.4 mm exactly: international inch of 1959 (NIST SP 811, appendix B).
    let fractions = inches::fractions();
    assert_eq!(fractions.len(), 64);
    for (text, millimetres) in [
        ("1/64", 0.396_875),
        ("3/32", 2.381_25),
        ("1/8", 3.175),
        ("9/64", 3.571_875),
        ("1/4", 6.35),
        ("15/32", 11.906_25),
        ("49/64", 19.446_875),
        ("63/64", 25.003_125),
        ("1", 25.4),
    ] {
        let found = fractions.iter().find(|fraction| fraction.text == text).unwrap();
        assert_near(found.length.to_mm(), millimetres, 1e-12, text);
    }
}

#[test]
fn drills_are_as_the_standard_prints_them() {
    // ASME B94.11M in inches, by GNU Units 2.22 and, for No. 80, 25, 21, 10, 7, 4, 3, 2 and 1, by printed charts.
    for (size, inches) in [
        ("No. 80", 0.0135),
        ("No. 60", 0.0400),
        ("No. 43", 0.0890),
        ("No. 30", 0.1285),
        ("No. 25", 0.1495),
        ("No. 21", 0.1590),
        ("No. 10", 0.1935),
        ("No. 7", 0.2010),
        ("No. 4", 0.2090),
        ("No. 3", 0.2130),
        ("No. 2", 0.2210),
        ("No. 1", 0.2280),
        ("letter A", 0.2340),
        ("letter E", 0.2500),
        ("letter F", 0.2570),
        ("letter Q", 0.3320),
        ("letter Z", 0.4130),
        ("7/64 in", 0.109_375),
        ("31/64 in", 0.484_375),
    ] {
        let drill = catalog::drills().iter().find(|drill| drill.size == size).unwrap();
        assert_near(drill.diameter.to_inches(), inches, 1e-9, size);
    }
    let metric = catalog::drills().iter().find(|drill| drill.size == "6.5 mm").unwrap();
    assert_near(metric.diameter.to_mm(), 6.5, 1e-12, "6.5 mm");
}

#[test]
fn resistors_come_in_the_steps_of_iec_60063() {
    // E96 follows the rounding rule of the standard in all 96 places; E12 and E24 are lists, with eight old values
    // that break it (27 30 33 36 39 43 47 82).
    for (index, step) in (0_u32..).zip(Series::E96.steps()) {
        assert_near(step, (100.0 * 10_f64.powf(f64::from(index) / 96.0)).round(), 1e-9, "E96");
    }
    let steps = |series: Series| series.steps().map(|step| format!("{step}")).collect::<Vec<_>>().join(" ");
    assert_eq!(steps(Series::E12), "10 12 15 18 22 27 33 39 47 56 68 82");
    assert_eq!(steps(Series::E24), "10 11 12 13 15 16 18 20 22 24 27 30 33 36 39 43 47 51 56 62 68 75 82 91");
    // The next at or above, across the decades.
    for (ohms, series, next) in [
        (1_066.666_667, Series::E24, 1100.0),
        (1_066.666_667, Series::E12, 1200.0),
        (1_066.666_667, Series::E96, 1070.0),
        (991.0, Series::E24, 1000.0),
        (977.0, Series::E96, 1000.0),
        (0.47, Series::E12, 0.47),
        (9.2, Series::E24, 10.0),
    ] {
        assert_near(series::next_up(ohms, series).unwrap(), next, 1e-12, &format!("{ohms} in {series:?}"));
    }
}

#[test]
fn wire_gauges_are_as_published() {
    // HyperPhysics (Georgia State University), "Common Wire Gauges": diameter in inches, ohms for 1000 ft.
    const MM_PER_FOOT: f64 = 304.8;
    for (gauge, inches, ohms_per_1000_ft) in [
        (18, 0.0403, 6.385),
        (20, 0.03196, 10.15),
        (22, 0.02535, 16.14),
        (24, 0.0201, 25.67),
        (26, 0.01594, 40.81),
        (28, 0.01264, 64.9),
        (30, 0.01002, 103.2),
        (32, 0.00795, 164.1),
        (34, 0.0063, 260.9),
        (36, 0.005, 414.8),
    ] {
        assert_near(awg::bare_diameter_mm(gauge) / 25.4, inches, 0.000_06, &format!("diameter of {gauge}"));
        // The printed figures are rounded to four places and their copper differs by up to 0.03 %.
        let per_1000_ft = awg::ohm_per_metre(gauge) * MM_PER_FOOT;
        assert_near(per_1000_ft, ohms_per_1000_ft, ohms_per_1000_ft * 0.000_4, &format!("resistance of {gauge}"));
    }
}

#[test]
fn a_lamps_resistor_is_as_in_the_textbooks() {
    // Lessons In Electric Circuits, Vol. III, light-emitting diodes, figures 03295 (a) and (b); f-alpha.net,
    // experiment 3; two worked examples of an encyclopedia's page on the circuit; a formula page: supply, forward,
    // milliamperes, ohms printed, milliwatts.
    for (supply, forward, milliamperes, ohms, milliwatts, tolerance) in [
        (6.0, 1.6, 20.0, 220.0, 88.0, 1e-9),
        (24.0, 1.6, 20.0, 1120.0, 448.0, 1e-9),
        (9.0, 2.0, 15.0, 466.0, 105.0, 1.0),
        (12.0, 1.8, 5.0, 2040.0, 51.0, 1e-9),
        (9.0, 1.8, 5.0, 1440.0, 36.0, 1e-9),
        (5.0, 2.0, 20.0, 150.0, 60.0, 1e-9),
    ] {
        let current = milliamperes / 1000.0;
        let exact = formulas::exact_resistor(supply, formulas::group_drop(1.0, forward), current);
        assert_near(exact, ohms, tolerance, &format!("{supply} V, {forward} V"));
        let heat = 1000.0 * formulas::resistor_heat(current, exact);
        assert_near(heat, milliwatts, 1e-9, &format!("heat at {supply} V"));
    }
    // The third example takes the next standard value.
    assert_eq!(series::next_up(466.667, Series::E24), Some(470.0));
    assert_eq!(series::next_up(466.667, Series::E12), Some(470.0));
}

#[test]
fn groups_in_series_get_the_next_resistor_and_its_current() {
    // Derived by the same law, steps by a published list of IEC 60063: supply, lamps, forward, target mA, exact,
    // next E24, current mA, heat mW.
    for (supply, lamps, forward, target, ideal, next, milliamperes, milliwatts) in [
        (9.0, 1.0, 2.0, 5.0, 1400.0, 1500.0, 4.666_667, 32.666_667),
        (9.0, 2.0, 2.0, 5.0, 1000.0, 1000.0, 5.0, 25.0),
        (9.0, 3.0, 2.0, 5.0, 600.0, 620.0, 4.838_710, 14.516_129),
        (3.0, 1.0, 1.9, 2.0, 550.0, 560.0, 1.964_286, 2.160_714),
        (3.7, 1.0, 3.0, 5.0, 140.0, 150.0, 4.666_667, 3.266_667),
        (9.0, 1.0, 3.2, 2.0, 2900.0, 3000.0, 1.933_333, 11.213_333),
        (9.0, 2.0, 3.2, 2.0, 1300.0, 1300.0, 2.0, 5.2),
        (4.5, 1.0, 2.0, 10.0, 250.0, 270.0, 9.259_259, 23.148_148),
    ] {
        let drop = formulas::group_drop(lamps, forward);
        let exact = formulas::exact_resistor(supply, drop, target / 1000.0);
        assert_near(exact, ideal, 1e-9, "exact");
        let resistor = series::next_up(exact, Series::E24).unwrap();
        assert_near(resistor, next, 1e-9, "next");
        let current = formulas::group_current(supply, drop, resistor);
        assert_near(1000.0 * current, milliamperes, 5e-7, "current");
        assert_near(1000.0 * formulas::resistor_heat(current, resistor), milliwatts, 5e-7, "heat");
    }
}

#[test]
fn a_battery_lasts_its_capacity_over_its_current() {
    // Lessons In Electric Circuits, Vol. I, chapter 11: 70 Ah at 3.5 A last 20 h, at 70 A one hour.
    assert_near(formulas::hours(70.0, 3.5), 20.0, 1e-12, "70 Ah at 3.5 A");
    assert_near(formulas::hours(70.0, 70.0), 1.0, 1e-12, "70 Ah at 70 A");
    // The same chapter: a zinc-carbon block holds 400 mAh.
    assert_near(catalog::cell("9 V zinc-carbon").unwrap().capacity_least.to_ampere_hours(), 0.4, 1e-12, "block");
}

#[test]
fn woods_move_as_the_handbook_says() {
    // Wood Handbook FPL-GTR-190, table 13-5: change in width for each per cent of moisture, radial and tangential.
    for (id, radial, tangential) in [
        ("maple", 0.00165, 0.00353),
        ("ash", 0.00169, 0.00274),
        ("alder", 0.00151, 0.00256),
        ("walnut", 0.00190, 0.00274),
        ("cherry", 0.00126, 0.00248),
        ("bigleaf maple", 0.00126, 0.00248),
    ] {
        let movement = catalog::wood(id).unwrap().movement().unwrap();
        assert_near(movement.radial, radial, 1e-12, id);
        assert_near(movement.tangential, tangential, 1e-12, id);
    }
    // Woods that the table leaves out, by their shrinkage; two flooring trades' pages print the tangential figures
    // 0.00180, 0.00212 and 0.00201 after the older handbook.
    for (id, tangential) in [("padauk", 0.00180), ("purpleheart", 0.00212), ("wenge", 0.00201)] {
        assert_near(catalog::wood(id).unwrap().movement().unwrap().tangential, tangential, 0.000_005, id);
    }
}

#[test]
fn woods_weigh_what_the_fact_sheets_say() {
    // FPL fact sheets, air-dry weight in lb/ft³; 1 lb/ft³ = 16.018463 kg/m³ (NIST SP 811, appendix B).
    const POUND_PER_CUBIC_FOOT: f64 = 16.018_463;
    for (id, least, most) in [("indian rosewood", 53.0, 53.0), ("padauk", 42.0, 51.0), ("cocobolo", 62.0, 76.0)] {
        let density = catalog::wood(id).unwrap().density.to_kilograms_per_cubic_metre();
        let middle = (least + most) / 2.0 * POUND_PER_CUBIC_FOOT;
        assert_near(density, middle, 0.6, id);
    }
}

#[test]
fn an_ear_stands_noise_for_half_as_long_at_each_step() {
    // NIOSH: 8 h at 85 dB(A), half for every 3 dB. OSHA 29 CFR 1910.95 appendix A: 8 h at 90 dB(A), half for every
    // 5 dB; its table G-16 prints 6, 3 and 1.5 h where the formula gives 6.06, 3.03 and 1.52.
    for limit in catalog::noise_limits() {
        let (base, step) = if limit.rule == "NIOSH" { (85.0, 3.0) } else { (90.0, 5.0) };
        let hours = 8.0 / ((limit.level - base) / step).exp2();
        assert_near(limit.hours, hours, 0.011 * hours, &format!("{} {}", limit.rule, limit.level));
    }
    assert_eq!(catalog::noise_limits().iter().filter(|limit| limit.rule == "OSHA").count(), 9);
}

#[test]
fn paper_has_its_published_size_in_points() {
    // ISO 216:2007 and ASME Y14.1; 72 points to the inch.
    for (paper, width, height) in [(Paper::A4, 595.2756, 841.8898), (Paper::Letter, 612.0, 792.0)] {
        let (across, along) = paper.size();
        assert_near(across / 25.4 * 72.0, width, 0.000_05, "width");
        assert_near(along / 25.4 * 72.0, height, 0.000_05, "height");
    }
}

#[test]
fn a_vibrating_string_pulls_and_sounds_as_in_the_textbook() {
    use kerfbook::design::formulas::{note_frequency, solid_weight, string_tension};

    // OpenStax, University Physics volume 1 (CC BY), example 16.5: a string of 3.09e-4 kg/m under 56.40 N carries waves
    // at 427.23 m/s; one of 5.78e-3 kg/m carries them as fast under 1055.00 N. A string of length L sounds at v/(2·L).
    let length = 647.7;
    let frequency = 427.23 / (2.0 * length / 1000.0);
    assert_near(string_tension(0.309, length, frequency), 56.40, 5e-3, "high string");
    assert_near(string_tension(5.78, length, frequency), 1055.00, 5e-2, "low string at the same speed");
    // The same, section 16.6: 2.00 kg (g = 9.8 m/s²) hang on 0.006 kg/m over 2.00 m; the first mode is 14.29 Hz.
    assert_near(string_tension(6.0, 2000.0, 14.29), 2.00 * 9.8, 1e-2, "a weight on a string");
    // The same, problem: a piano wire of 4.95e-3 kg/m carries waves at 500 m/s under 1237.5 N.
    assert_near(string_tension(4.95, 1000.0, 250.0), 1237.5, 1e-9, "piano wire");
    // Derived, two densities of plain steel: 0.009 in, 329.627557 Hz over 0.6477 m.
    let gauge = 0.009 * 25.4;
    for (density, weight, tension) in [(7.80, 0.320_137_785_3, 58.370_276), (7.85, 0.322_189_950_6, 58.744_444)] {
        assert_near(solid_weight(density, gauge), weight, 1e-9, "weight of plain steel");
        assert_near(string_tension(solid_weight(density, gauge), 647.7, 329.627_557), tension, 1e-5, "its tension");
    }
    // Open strings as the same book prints them, section 16.3.
    for (semitone, printed) in
        [(40.0, 82.41), (45.0, 110.00), (50.0, 146.83), (55.0, 196.00), (59.0, 246.94), (64.0, 329.63)]
    {
        assert_near(note_frequency(semitone), printed, 5e-3, "open string");
    }
}
