//! `materials-list`: what is taken from the rack and the drawers; for the helper without prices, for the office with.

use super::{Cell, Data, Job, Kind, Sheet, Station, Table, Value, View};
use crate::design::stock::{self, Line, Name};
use crate::rounding;

const ID: &str = "materials-list";

/// The sheet; every commission has one.
pub(super) fn sheet(job: &Job<'_>) -> Option<Sheet> {
    let lines = stock::lines(job.model, job.design);
    let table = table(&lines);
    let unit = job.unit();
    let bench = table.bench(
        ID,
        unit,
        &[
            View::Tick("taken".to_owned()),
            View::column("what", "what").strong(),
            View::column("size", "size"),
            View::column("take", "take").main(),
            View::column("unit", "unit"),
            View::column("bin", "bin"),
            View::WriteIn("lot".to_owned()),
        ],
    );
    let office = table.desk(
        "materials-list-office",
        unit,
        &[
            View::column("item", ""),
            View::column("what", "what").strong(),
            View::column("from", "follows from"),
            View::column("quantity", "quantity"),
            View::column("unit", "unit"),
            View::column("waste_percent", "waste"),
            View::column("take", "take"),
            View::column("on_shelf", "on shelf"),
            View::column("unit_price", "unit price"),
            View::column("cost", "cost").strong(),
        ],
    );
    Some(Sheet {
        id: ID,
        title: "Materials list",
        kind: "stock list",
        read_first: "Take everything before the first cut. Write the lot beside it.".to_owned(),
        datum: "",
        station: Station::Office,
        caution: None,
        data: data(job, &lines),
        views: vec![bench, office],
        tables: vec![table],
        drawings: Vec::new(),
        holds: Vec::new(),
        settings: Vec::new(),
        unit,
    })
}

fn table(lines: &[Line]) -> Table {
    let mut table = Table::new(
        ID,
        &[
            ("item", Kind::Count),
            ("what", Kind::Words),
            ("size", Kind::Words),
            ("from", Kind::Words),
            ("quantity", Kind::Amount),
            ("unit", Kind::Words),
            ("waste_percent", Kind::Figure("%", 0)),
            ("take", Kind::Amount),
            ("on_shelf", Kind::Amount),
            ("bin", Kind::Words),
            ("unit_price", Kind::Figure("", 2)),
            ("cost", Kind::Figure("", 2)),
        ],
    );
    for (index, line) in lines.iter().enumerate() {
        table.row(vec![
            (index + 1).into(),
            match &line.what {
                Name::Ours(words) => Cell::Words(words.clone()),
                Name::Written(words) => Cell::Quoted(words.clone()),
            },
            line.size.as_str().into(),
            line.from.into(),
            line.quantity.into(),
            Cell::Quoted(line.unit.clone()),
            (line.waste * 100.0).into(),
            line.take().into(),
            line.shelf.on_shelf.into(),
            line.shelf.bin.clone().map_or(Cell::Empty, Cell::Quoted),
            line.shelf.unit_price.into(),
            line.cost().into(),
        ]);
    }
    table
}

fn data(job: &Job<'_>, lines: &[Line]) -> Data {
    let mut data = Data::new();
    data.insert("total", rounding::fixed(stock::total(lines), 2).into());
    data.insert("currency", Value::Quoted(job.model.shop.currency.clone().unwrap_or_default()));
    let named =
        |lines: Vec<&Line>| Value::Quoted(lines.iter().map(|line| line.what.words()).collect::<Vec<_>>().join(", "));
    let open: Vec<&Line> = lines.iter().filter(|line| line.quantity.is_err()).collect();
    let unpriced: Vec<&Line> =
        lines.iter().filter(|line| line.quantity.is_ok() && line.shelf.unit_price.is_none()).collect();
    let papers: Vec<Data> = lines
        .iter()
        .filter_map(|line| Some((line, line.papers.clone()?)))
        .map(|(line, papers)| {
            Data::from([("what", Value::Quoted(line.what.words().to_owned())), ("papers", Value::Quoted(papers))])
        })
        .collect();
    data.insert("papers", papers.into());
    let listed = super::hazards::board_wood(job).filter(|wood| wood.listing().is_some());
    if let (Some(_), Ok(wood)) = (listed, job.model.board.wood.get()) {
        data.insert("listed", Value::Quoted(wood.name));
    }
    data.insert("board_thickness_open", job.model.board.thickness.mm().is_err().into());
    data.insert("any_open", (!open.is_empty()).into());
    data.insert("open", named(open));
    data.insert("any_unpriced", (!unpriced.is_empty()).into());
    data.insert("unpriced", named(unpriced));
    data
}
