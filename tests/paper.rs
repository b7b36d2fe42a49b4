//! Sheets as they come to lie on paper: nothing overflows, nothing is cut, what belongs together stays together.

use kerfbook::drawing::{Item, Text, TextBox};
use kerfbook::paper::{
    Block, Cell, Column, Composition, Element, ElementId, Inlines, Mark, Page, Paper, Place, Role, Row, Setting, Sheet,
    Table, compose,
};
use kurbo::{Rect, Shape};
use proptest::prelude::*;
use proptest::test_runner::RngSeed;

use super::sample;

/// Nothing reaches further than this over its edge, in millimetres: pens have width, sums are rounded.
const SLACK: f64 = 0.4;

fn bounds(item: &Item) -> Rect {
    match item {
        Item::Text(text) => TextBox::of(text).bounds(),
        Item::Path { outline, .. } => outline.bounding_box(),
    }
}

fn within(inner: Rect, outer: Rect) -> bool {
    let outer = outer.inflate(SLACK, SLACK);
    inner.x0 >= outer.x0 && inner.y0 >= outer.y0 && inner.x1 <= outer.x1 && inner.y1 <= outer.y1
}

fn texts(page: &Page) -> impl Iterator<Item = (&Text, Option<ElementId>)> {
    page.marks.iter().filter_map(|mark| match &mark.item {
        Item::Text(text) => Some((text, mark.element)),
        Item::Path { .. } => None,
    })
}

/// The sheet with other blocks.
fn sheet(paper: Paper, blocks: Vec<Block>) -> Sheet {
    Sheet { name: "test".to_owned(), frame: sample::frame(paper, "Test", "1 / 1", None), blocks }
}

fn pages(sheet: &Sheet) -> (Composition, Vec<Page>) {
    let composition = compose(sheet);
    let pages = composition.pages(&sheet.frame);
    (composition, pages)
}

/// Every mark of the text stands within the frame, above the title block and below the head's rule.
fn assert_in_frame(sheet: &Sheet) {
    let (_, pages) = pages(sheet);
    let block = sheet.frame.title_block_area();
    let frame = Rect { y0: block.y1, ..sheet.frame.paper.frame() };
    let heads = compose(&Sheet { blocks: Vec::new(), ..sheet.clone() }).pages(&sheet.frame);
    for page in &pages {
        // What a page without text has as well is head, frame and title block.
        let is_text = |mark: &&Mark| !heads[0].marks.iter().any(|head| head.item == mark.item);
        for mark in page.marks.iter().filter(is_text) {
            let is_page_number = matches!(&mark.item, Item::Text(text) if text.text.starts_with("page "));
            let is_for_whom = matches!(&mark.item, Item::Text(text) if text.text.starts_with("For the builder"));
            assert!(is_page_number || is_for_whom || within(bounds(&mark.item), frame), "{:?}", mark.item);
        }
    }
}

fn all_samples() -> Vec<Sheet> {
    let of = |paper| {
        [None, Some("DRAFT after B")].into_iter().flat_map(move |draft| {
            [
                sample::table_sheet(paper, 25, draft),
                sample::table_sheet(paper, 61, draft),
                sample::setting_sheet(paper, draft),
            ]
        })
    };
    [Paper::A4, Paper::Letter].into_iter().flat_map(of).collect()
}

#[test]
fn text_stays_in_its_frame_and_off_the_title_block() {
    all_samples().iter().for_each(assert_in_frame);
}

#[test]
fn marks_stay_on_the_paper() {
    for sheet in all_samples() {
        for page in pages(&sheet).1 {
            let paper = Rect::new(0.0, 0.0, page.width, page.height);
            for mark in &page.marks {
                assert!(within(bounds(&mark.item), paper), "{:?}", mark.item);
            }
        }
    }
}

#[test]
fn no_text_lies_over_another() {
    for sheet in all_samples() {
        for page in pages(&sheet).1 {
            let boxes: Vec<(&str, TextBox)> =
                texts(&page).map(|(text, _)| (text.text.as_str(), TextBox::of(text).grown(-0.35))).collect();
            for (index, (one, place)) in boxes.iter().enumerate() {
                for (other, other_place) in &boxes[index + 1..] {
                    assert!(!place.overlaps(other_place), "`{one}` and `{other}`");
                }
            }
        }
    }
}

/// For each row of each table, the pages on which it stands.
fn rows_by_page(elements: &[Element], pages: &[Page]) -> Vec<Vec<usize>> {
    let is_row = |element: &&Element| element.role == Role::TableRow;
    let mut found = vec![Vec::new(); elements.len()];
    for (number, page) in pages.iter().enumerate() {
        for (_, element) in texts(page) {
            let Some(cell) = element.map(|id| &elements[id.0]) else { continue };
            let Some(row) = cell.parent.filter(|parent| is_row(&&elements[parent.0])) else { continue };
            if !found[row.0].contains(&number) {
                found[row.0].push(number);
            }
        }
    }
    found.retain(|pages| !pages.is_empty());
    found
}

#[test]
fn a_long_table_is_cut_between_rows_and_headed_again() {
    for paper in [Paper::A4, Paper::Letter] {
        let sheet = sample::table_sheet(paper, 61, None);
        let (composition, pages) = pages(&sheet);
        assert_eq!(pages.len(), 2, "{paper:?}");
        let rows = rows_by_page(composition.elements(), &pages);
        // 61 rows and the head.
        assert_eq!(rows.len(), 62);
        assert!(rows.iter().all(|pages| pages.len() == 1), "{rows:?}");
        for page in &pages {
            let heads = texts(page).filter(|(text, _)| text.text == "measured").count();
            assert_eq!(heads, 1);
            assert!(texts(page).any(|(text, _)| text.text == "cut"));
        }
        // Never one row alone.
        let on_last = rows.iter().filter(|pages| pages == &&vec![1]).count();
        assert!((2..60).contains(&on_last), "{on_last}");
    }
}

#[test]
fn decimal_points_stand_one_under_the_other() {
    let numbers = ["37.42", "−0.5", "509.4", "1200", "3.125", "12 mm"];
    let table = Table {
        columns: vec![Column::text("name"), Column::number("from the end of the board", "mm")],
        rows: numbers.iter().map(|number| vec!["a".into(), (*number).into()].into()).collect(),
        ..Table::default()
    };
    let (_, pages) = pages(&sheet(Paper::A4, vec![table.into()]));
    let point = |number: &str| {
        let (text, _) = texts(&pages[0]).find(|(text, _)| text.text == number).unwrap();
        let whole = number.split(['.', ' ']).next().unwrap();
        text.at.x + text.face.width(whole, text.size)
    };
    for number in numbers {
        assert!((point(number) - point("37.42")).abs() < 1e-6, "{number}");
    }
}

#[test]
fn rows_take_the_room_there_is_but_no_further_page() {
    let pitch = |rows: i32| {
        let sheet = sample::table_sheet(Paper::A4, rows, None);
        let (_, pages) = pages(&sheet);
        let baseline = |text: &str| texts(&pages[0]).find(|(found, _)| found.text == text).unwrap().0.at.y;
        (pages.len(), baseline("1") - baseline("2"))
    };
    // 25 rows as on most boards: at arm's length 6.5 mm from row to row is easy to follow (common practice).
    let (pages, roomy) = pitch(25);
    assert_eq!(pages, 1);
    assert!(roomy > 6.5, "{roomy}");
    let (pages, tight) = pitch(30);
    assert_eq!(pages, 1);
    assert!(tight < roomy && tight > 5.0, "{tight}");
}

#[test]
fn bench_tables_keep_nine_points_and_desk_tables_seven() {
    for (place, least) in [(Place::Bench, 9.0), (Place::Desk, 7.0)] {
        let table = Table { use_at: place, ..sample::bench_table(12) };
        let (composition, pages) = pages(&sheet(Paper::A4, vec![table.into()]));
        let elements = composition.elements();
        let of_cells = texts(&pages[0]).filter(|(_, id)| id.is_some_and(|id| elements[id.0].role == Role::TableCell));
        let smallest = of_cells.map(|(text, _)| text.size).fold(f64::INFINITY, f64::min);
        assert!(smallest >= least, "{place:?}: {smallest}");
    }
}

#[test]
fn a_table_too_wide_for_the_page_is_made_to_fit() {
    for count in [10, 16, 24, 40] {
        let column = |n: usize| Column::text(format!("unmistakably {n}"));
        let cell = |n: usize| Cell::from(format!("Schraubenzieherheft {n}.{n}"));
        let table = Table {
            columns: (0..count).map(column).collect(),
            rows: (0..3).map(|_| Row::Cells((0..count).map(cell).collect())).collect(),
            ..Table::default()
        };
        assert_in_frame(&sheet(Paper::A4, vec![table.into()]));
    }
}

#[test]
fn a_heading_is_never_the_last_on_a_page() {
    for lines in 30..60 {
        let mut blocks: Vec<Block> = (0..lines).map(|n| Block::paragraph(format!("line {n}"))).collect();
        blocks.push(Block::heading(2, "Heading"));
        blocks.push(sample::bench_table(9).into());
        let (composition, _) = pages(&sheet(Paper::A4, blocks.clone()));
        let with_table = composition.headings()[0].page;
        let sheet = sheet(Paper::A4, blocks);
        let (composition, pages) = pages(&sheet);
        let rows = rows_by_page(composition.elements(), &pages);
        assert!(rows[1].contains(&with_table), "{lines} lines: heading on page {with_table}, rows {rows:?}");
    }
}

#[test]
fn a_group_stands_on_one_page() {
    for lines in 30..55 {
        let mut blocks: Vec<Block> = (0..lines).map(|n| Block::paragraph(format!("line {n}"))).collect();
        blocks.push(Block::Group((0..6).map(|n| Block::task(format!("task {n}"))).collect()));
        let (_, pages) = pages(&sheet(Paper::A4, blocks));
        let with_tasks = pages.iter().filter(|page| texts(page).any(|(text, _)| text.text.starts_with("task")));
        assert_eq!(with_tasks.count(), 1, "{lines} lines");
    }
}

#[test]
fn a_text_longer_than_a_page_goes_on() {
    let long = "word ".repeat(4000);
    let table = Table {
        columns: vec![Column::text("what"), Column::text("why")],
        rows: vec![vec!["a".into(), Cell::from(long.clone())].into()],
        ..Table::default()
    };
    let setting = Setting { value: "3.35".repeat(60), note: long.clone().into(), ..Setting::default() };
    let blocks = vec![Block::paragraph(long.clone()), table.into(), Block::caution(long.clone()), Block::task(long)];
    let sheet = sheet(Paper::Letter, blocks);
    assert_in_frame(&sheet);
    let (_, all) = pages(&sheet);
    let words: usize = all.iter().flat_map(texts).map(|(text, _)| text.text.matches("word").count()).sum();
    assert_eq!(words, 4 * 4000);
    assert_in_frame(&self::sheet(Paper::Letter, vec![setting.into()]));
}

#[test]
fn a_setting_is_read_at_arms_length() {
    let size = |count: usize| {
        let setting =
            Setting { label: "set".to_owned(), value: "12.70".to_owned(), unit: "mm".to_owned(), ..Setting::default() };
        let (_, pages) = pages(&sheet(Paper::A4, vec![Block::Settings(vec![setting; count])]));
        let sizes: Vec<f64> =
            texts(&pages[0]).filter(|(text, _)| text.text == "12.70").map(|(text, _)| text.size).collect();
        assert_eq!(sizes.len(), count);
        sizes.into_iter().fold(f64::INFINITY, f64::min)
    };
    assert!(size(1) >= 32.0);
    for count in 2..=9 {
        assert!(size(count) >= 18.0, "{count} side by side: {}", size(count));
    }
}

#[test]
fn every_page_of_a_draft_says_so_and_no_page_of_an_issue_does() {
    for sheet in all_samples() {
        for page in pages(&sheet).1 {
            let said = texts(&page).filter(|(text, _)| text.text.contains("DRAFT after B")).count();
            // Band, filing edge and the field of the issue.
            assert_eq!(said, if sheet.frame.draft.is_some() { 6 } else { 0 });
        }
    }
}

#[test]
fn words_in_the_title_block_do_not_move_the_text() {
    let sheet = sample::table_sheet(Paper::A4, 25, None);
    let composition = compose(&sheet);
    let mut frame = sheet.frame.clone();
    frame.title_block.rows[1][0].value =
        "a name so long that no field could hold it in two lines of its own ".repeat(4);
    let text = |pages: &[Page]| {
        let kept = |(text, id): (&Text, Option<ElementId>)| id.map(|_| (text.text.clone(), text.at));
        texts(&pages[0]).filter_map(kept).collect::<Vec<_>>()
    };
    let changed = composition.pages(&frame);
    assert_eq!(text(&composition.pages(&sheet.frame)), text(&changed));
    let block = frame.title_block_area();
    assert!(texts(&changed[0]).any(|(text, _)| text.text.ends_with('…') && within(TextBox::of(text).bounds(), block)));
}

/// A block of some kind, from a size and words.
fn block(kind: u8, size: usize, words: &str) -> Block {
    let text: Inlines = words.into();
    match kind {
        0 => Block::heading(2, text),
        1 => Block::paragraph(text),
        2 => Block::task(text),
        3 => Block::caution(text),
        4 => sample::bench_table(i32::try_from(size).unwrap()).into(),
        5 => Block::Settings(vec![
            Setting {
                label: words.to_owned(),
                value: "3.35".to_owned(),
                note: text,
                ..Setting::default()
            };
            size % 5 + 1
        ]),
        6 => Block::Group(vec![Block::heading(3, text.clone()), Block::paragraph(text)]),
        _ => kerfbook::paper::Figure::new(sample::drawing()).into(),
    }
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, rng_seed: RngSeed::Fixed(2026), ..ProptestConfig::with_cases(60) })]

    #[test]
    fn whatever_the_blocks_the_frame_holds(
        blocks in prop::collection::vec((0_u8..8, 1_usize..40, "[a-zA-Z ]{0,90}[a-z]{0,60}"), 1..12),
        letter in any::<bool>(),
    ) {
        let paper = if letter { Paper::Letter } else { Paper::A4 };
        let blocks = blocks.iter().map(|(kind, size, words)| block(*kind, *size, words)).collect();
        assert_in_frame(&sheet(paper, blocks));
    }
}
