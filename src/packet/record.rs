//! The packet's record for scripts: `packet.json` and `manifest.json`.

use serde_json::{Map, Value, json};
use sha2::{Digest, Sha256};

use super::bind::Bound;
use super::{InputFile, Inputs, PROGRAM, PacketFile};
use crate::diag::render::{self, Context};
use crate::model::ResolvedValue;
use crate::sheets::{Cell, History, Job};

/// Every resolved and derived number, with units in the names.
pub(super) fn packet_json(inputs: &Inputs, job: &Job<'_>, history: &History<'_>, bound: &Bound) -> Vec<u8> {
    let mut tables = Map::new();
    for table in bound.all_sheets().flat_map(|sheet| &sheet.tables) {
        let rows: Vec<Value> = table
            .rows
            .iter()
            .map(|row| {
                let cells =
                    table.columns.iter().zip(row).map(|(column, cell)| (column.key.to_owned(), cell_value(cell)));
                Value::Object(cells.collect())
            })
            .collect();
        tables.insert(table.name.to_owned(), Value::Array(rows));
    }
    let context = Context { sources: &inputs.sources, commission: inputs.commission.id };
    pretty(&json!({
        "commission": number(job),
        "issue": history.issued().map(|issue| &issue.letter),
        "date": history.issued().map(|issue| issue.date.to_string()),
        "values": values(job),
        "tables": tables,
        "findings": render::findings(job.findings, context),
    }))
}

/// What the packet was made from and what it holds.
pub(super) fn manifest_json(
    inputs: &Inputs,
    job: &Job<'_>,
    history: &History<'_>,
    bound: &Bound,
    files: &[PacketFile],
) -> Vec<u8> {
    let bound_in = bound.sheets.iter().zip(&bound.stamps).zip(&bound.pages).map(|((sheet, stamp), pages)| {
        json!({ "sheet": sheet.id, "stamp": stamp.as_str(), "pages": [pages.first, pages.last] })
    });
    let left_out = bound.left_out.iter();
    let left_out =
        left_out.map(|out| json!({ "sheet": out.sheet.id, "stamp": out.stamp.as_str(), "pages": Value::Null }));
    let sheets: Vec<Value> = bound_in.chain(left_out).collect();
    let input = |file: &InputFile| json!({ "path": file.path, "digest": digest(inputs.sources.get(file.id).text().as_bytes()) });
    let read: Vec<Value> = inputs.files().map(input).collect();
    let written: Vec<Value> =
        files.iter().map(|file| json!({ "path": file.path, "digest": digest(&file.bytes) })).collect();
    pretty(&json!({
        "tool": PROGRAM,
        "commission": number(job),
        "issue": history.issued().map(|issue| &issue.letter),
        "date": history.issued().map(|issue| issue.date.to_string()),
        "stamp": bound.stamp.as_str(),
        "sheets": sheets,
        "inputs": read,
        "files": written,
    }))
}

fn values(job: &Job<'_>) -> Map<String, Value> {
    job.model
        .values
        .iter()
        .map(|resolved| match &resolved.value {
            ResolvedValue::Figure(figure, unit) => (named(&resolved.key, unit), json!(figure)),
            ResolvedValue::Count(count) => (resolved.key.to_string(), json!(count)),
            ResolvedValue::Words(words) => (resolved.key.to_string(), json!(words)),
            ResolvedValue::List(list) => (resolved.key.to_string(), json!(list)),
            ResolvedValue::Open => (resolved.key.to_string(), json!("open")),
        })
        .collect()
}

/// A key with its unit: `wire.tang_depth_mm`.
fn named(key: &str, unit: &str) -> String {
    match unit {
        "" => key.to_owned(),
        unit => format!("{key}_{}", unit.to_lowercase().replace('/', "_per_")),
    }
}

fn cell_value(cell: &Cell) -> Value {
    match cell {
        Cell::Empty | Cell::Waits => Value::Null,
        Cell::Figure(figure) => json!(figure),
        Cell::Count(count) => json!(count),
        Cell::Words(words) | Cell::Quoted(words) => json!(words),
    }
}

fn number(job: &Job<'_>) -> String {
    job.model.commission.number.get().unwrap_or_default()
}

/// SHA-256 (FIPS 180-4) in lower-case hexadecimal.
fn digest(bytes: &[u8]) -> String {
    use std::fmt::Write;
    Sha256::digest(bytes).iter().fold(String::new(), |mut text, byte| {
        write!(text, "{byte:02x}").expect("a string takes every character");
        text
    })
}

fn pretty(value: &Value) -> Vec<u8> {
    let mut bytes = serde_json::to_vec_pretty(value).expect("the record holds only text and numbers");
    bytes.push(b'\n');
    bytes
}
