//! Two sheets of an invented commission, as other floors would make them: what the paper's tests set and print.

use kerfbook::drawing::{Drawing, Layer, Pen};
use kerfbook::emit::pdf::Document;
use kerfbook::paper::{
    Block, Cell, Column, Fact, Field, Figure, Frame, Head, Heading, Inlines, List, Paper, Place, Row, Setting, Sheet,
    Symbol, Table, TitleBlock, Volume, WriteIn, compose,
};
use kurbo::Rect;

/// A frame as every sheet has it.
pub(crate) fn frame(paper: Paper, title: &str, number: &str, draft: Option<&str>) -> Frame {
    let stamp = "2FWD 80HV N";
    Frame {
        paper,
        head: Head {
            title: title.to_owned(),
            number: "Q-7".to_owned(),
            badge: "LEFT-HANDED".to_owned(),
            read_first: "Measure every slot from the squared end. Never from the slot before.".into(),
            datum: "Measure from the squared end, on the centreline.".into(),
            order: Inlines::default(),
            units: Inlines::default().plain("All lengths in ").strong("mm"),
            bound_in: "sample",
            is_whole: false,
        },
        title_block: TitleBlock {
            rows: vec![
                vec![
                    Field::new("Done by", "", 3.0),
                    Field::new("Checked by", "", 3.0),
                    Field::new("Date", "", 2.0),
                    Field::new("Part", "board 1", 2.0),
                ],
                vec![
                    Field::new("Shop", "Invented Instruments", 3.0),
                    Field::new("Document", "Bench sheet", 2.0),
                    Field::new("Drawn by", "bench one", 1.8),
                    Field::new("Approved", "", 1.8),
                    Field::new("Issue", draft.unwrap_or("B"), 1.8),
                    Field::new("Date", "2026-11-25", 1.6),
                ],
                vec![
                    Field::new("Commission", "Harbour Bell (invented)", 3.0).strong(),
                    Field::new("Sheet", title, 2.0),
                    Field::new("Language", "en", 0.9),
                    Field::new("Sheet no.", number, 1.4),
                    Field::new("Stamp: valid while it stands on the cover", stamp, 3.4).strong(),
                ],
            ],
            symbol: Symbol::of("2FWD80HVN"),
        },
        draft: draft.map(str::to_owned),
    }
}

/// Positions of an equal division of 666.75 mm, the last one on the centreline.
fn positions(count: i32) -> Vec<f64> {
    (1..=count).map(|n| 666.75 * (1.0 - 2.0_f64.powf(-f64::from(n) / 12.0))).collect()
}

/// A long table to work by.
pub(crate) fn bench_table(count: i32) -> Table {
    let mark = |n: i32| match n % 12 {
        0 => "••",
        3 | 5 | 7 | 9 => "•",
        _ => "",
    };
    let row = |(index, position): (usize, f64)| {
        let n = i32::try_from(index).unwrap() + 1;
        let cells = vec![
            format!("{n}").into(),
            mark(n).into(),
            format!("{position:.2}").into(),
            Cell::WriteIn,
            format!("{:.2}", 49.0 + f64::from(n) * 0.64).into(),
            format!("{} {}/32 + 0.00{}", (position / 25.4).floor(), n % 31 + 1, n % 10).into(),
            Cell::Tick,
        ];
        Row::from(cells)
    };
    Table {
        columns: vec![
            Column::number("fret", "").strong(),
            Column::text("mark"),
            Column::number("from squared end", "mm").main(),
            Column::number("measured", ""),
            Column::number("width there", "mm"),
            Column::text("from squared end").quiet(),
            Column::centred("cut"),
        ],
        rows: positions(count).into_iter().enumerate().map(row).collect(),
        ..Table::default()
    }
}

/// A bar with its centreline and two dimensions.
pub(crate) fn drawing() -> Drawing {
    let mut drawing = Drawing::new("Section", "a bar with its centreline, bass at the left");
    drawing.rounded_rectangle(Layer::Outline, Rect::new(0.0, 0.0, 65.0, 6.0), 0.0, Pen::Visible);
    drawing.centre_line((32.5, 0.0).into(), (32.5, 6.0).into());
    drawing
}

/// A sheet with a table to work by.
pub(crate) fn table_sheet(paper: Paper, rows: i32, draft: Option<&str>) -> Sheet {
    let fact = |label: &str, value: &str, note: &str| Fact {
        label: label.to_owned(),
        value: value.to_owned(),
        note: note.to_owned(),
    };
    Sheet {
        name: "positions".to_owned(),
        frame: frame(paper, "Fret table", "4 / 14", draft),
        blocks: vec![
            Block::Facts(vec![
                fact("scale", "666.75", "26 1/4 in"),
                fact("squared end to zero line", "0.00", "they are one"),
                fact("each slot within", "±0.10", ""),
            ]),
            bench_table(rows).into(),
            Block::measured_task(
                Inlines::default()
                    .strong("Hold before the first cut: ")
                    .plain("the mark of fret 12 stands at half the scale, 333.38"),
                WriteIn::default(),
            ),
        ],
    }
}

/// A sheet with one setting, a drawing, tasks, a caution, and a page for the builder.
pub(crate) fn setting_sheet(paper: Paper, draft: Option<&str>) -> Sheet {
    let setting = Setting {
        label: "Set the blade above the sled to".to_owned(),
        value: "3.35".to_owned(),
        unit: "mm".to_owned(),
        tolerance: "+0.10 −0.00".to_owned(),
        other: "0.132 in".to_owned(),
        note: "blade A, kerf 0.56 · board flat, not yet radiused · 1.85 of slot stays at the edge when it is".into(),
        write_in: vec![
            WriteIn { label: "measured in the scrap test".to_owned(), unit: "mm".to_owned() },
            WriteIn::labelled("initials, date"),
        ],
        ..Setting::default()
    };
    let heading = Heading {
        level: 2,
        text: "Section at fret 25, the widest".into(),
        note: "2 : 1, seen toward the saddle".into(),
    };
    let proof = |text: Inlines| Block::measured_task(text, WriteIn { unit: "mm".to_owned(), ..WriteIn::default() });
    let small = |station: &str, value: &str, unit: &str| Setting {
        label: station.to_owned(),
        value: value.to_owned(),
        unit: unit.to_owned(),
        tolerance: "±0.10".to_owned(),
        foot: "Slot depth 7K3M 9QXT D".to_owned(),
        ..Setting::default()
    };
    Sheet {
        name: "depth".to_owned(),
        frame: frame(paper, "Slot depth", "5 / 14", draft),
        blocks: vec![
            setting.into(),
            Block::Group(vec![Block::Heading(heading), Figure::new(drawing()).into()]),
            Block::heading(2, "Prove it"),
            Block::task("Cut the scrap. Push in a piece of the fret wire: it seats with 0.15 to spare."),
            proof("First slot in the board: depth at the bass edge, the middle and the treble edge".into()),
            proof("Last slot: the same".into()),
            proof(Inlines::default().strong("Hold. ").plain("After radiusing: depth left at the edges of fret 25 is 1.80 or more, and this line is long enough to need a second one.")),
            Block::caution(Inlines::default().strong("Blade and dust. ").plain("Guard on, push block, fingers outside the line of the blade, no gloves. Wenge dust irritates skin and airways: extraction and a P2 mask. Your local rules and the saw maker’s sheet come first.")),
            Block::Back("For the builder: not needed at the bench".to_owned()),
            Block::paragraph(Inlines::default().plain("The depth is the tang, the room under it and the crown of the finished face, see ").link("Fret table", "positions").plain(". ½ of ⅛, Ø 3 × 4 °, 5 Ω, 7 µ, ≤ ≥ → ☐ ☑.")),
            Block::List(List { start: Some(1), items: vec![vec![Block::paragraph("one thing")], vec![Block::paragraph("another thing")]] }),
            Table { caption: "Where it comes from".into(), use_at: Place::Desk, ..bench_table(30) }.into(),
            Block::heading(3, "Cards"),
            Block::Settings(vec![small("saw", "3.35", "mm"), small("drill", "6.40", "mm")]),
            Block::Settings(vec![small("saw", "3.35", "mm"), small("drill, stop", "6.40", "mm"), small("router, depth of the channels", "12.70", "mm")]),
            Block::WriteIn(vec![WriteIn::labelled("moisture, %"), WriteIn::labelled("thickness, mm")]),
        ],
    }
}

/// Both sheets bound.
pub(crate) fn document(paper: Paper, draft: Option<&str>) -> Document {
    let mut volume = Volume::default();
    for sheet in [table_sheet(paper, 25, draft), setting_sheet(paper, draft), table_sheet(paper, 61, draft)] {
        volume.append(&compose(&sheet), &sheet.frame);
    }
    let bookmarks = volume.sheets.iter().map(|sheet| sheet.bookmark(sheet.name.clone())).collect();
    Document {
        title: "Q-7 Harbour Bell".to_owned(),
        creator: "kerfbook".to_owned(),
        language: "en".to_owned(),
        volume,
        bookmarks,
        ..Document::default()
    }
}
