//! What a reader asks for around the drawing itself: header, tables, blocks, objects.

use kurbo::{Point, Rect};

use super::{MODEL_SPACE, Writer, line_type};
use crate::drawing::LineKind;

/// The one style of letters.
pub(super) const TEXT_STYLE: &str = "Standard";

/// Handles below those of the entities, by what they belong to.
mod handles {
    pub(super) const DICTIONARY: u32 = 0xC;
    pub(super) const GROUPS: u32 = 0xD;
    pub(super) const LAYOUTS: u32 = 0xE;
    pub(super) const MODEL_LAYOUT: u32 = 0x22;
    pub(super) const PAPER_LAYOUT: u32 = 0x1E;
    pub(super) const PAPER_SPACE: u32 = 0x1B;
    /// The tables themselves; their entries count on from [`ENTRIES`].
    pub(super) const VIEWPORTS: u32 = 0x8;
    pub(super) const LINE_TYPES: u32 = 0x5;
    pub(super) const LAYERS: u32 = 0x2;
    pub(super) const STYLES: u32 = 0x3;
    pub(super) const VIEWS: u32 = 0x6;
    pub(super) const AXES: u32 = 0x7;
    pub(super) const APPLICATIONS: u32 = 0x9;
    pub(super) const DIMENSION_STYLES: u32 = 0xA;
    pub(super) const BLOCK_RECORDS: u32 = 0x1;
    pub(super) const ENTRIES: u32 = 0x30;
    /// Begin and end of the two blocks.
    pub(super) const BLOCKS: [[u32; 2]; 2] = [[0x20, 0x21], [0x1C, 0x1D]];
}

/// The names of the two blocks that every file has, with the handles of their records and layouts.
const SPACES: [(&str, u32, u32); 2] = [
    ("*Model_Space", MODEL_SPACE, handles::MODEL_LAYOUT),
    ("*Paper_Space", handles::PAPER_SPACE, handles::PAPER_LAYOUT),
];

const LINE_KINDS: [LineKind; 3] = [LineKind::Dashed, LineKind::LongDashDot, LineKind::LongDashDoubleDot];
/// The pen whose dashes the line types carry, in millimetres.
const DASHED_PEN: f64 = 0.25;

pub(super) fn header(file: &mut Writer, extent: Rect, next_handle: u32, dashes: f64) {
    file.pair(0, "SECTION");
    file.pair(2, "HEADER");
    let mut variable = |name: &str| file.pair(9, name);
    variable("$ACADVER");
    file.pair(1, "AC1015");
    file.pair(9, "$DWGCODEPAGE");
    file.pair(3, "ANSI_1252");
    file.pair(9, "$INSBASE");
    file.space_point(10, Point::ZERO);
    file.pair(9, "$EXTMIN");
    file.space_point(10, Point::new(extent.x0, extent.y0));
    file.pair(9, "$EXTMAX");
    file.space_point(10, Point::new(extent.x1, extent.y1));
    file.pair(9, "$LTSCALE");
    file.number(40, dashes);
    file.pair(9, "$LUNITS");
    file.pair(70, 2);
    file.pair(9, "$MEASUREMENT");
    file.pair(70, 1);
    // 4 is millimetres.
    file.pair(9, "$INSUNITS");
    file.pair(70, 4);
    file.pair(9, "$HANDSEED");
    file.handle(5, next_handle);
    file.pair(0, "ENDSEC");
    // Nothing here needs a class of its own, but older readers miss the section.
    file.pair(0, "SECTION");
    file.pair(2, "CLASSES");
    file.pair(0, "ENDSEC");
}

/// Opens tables and gives their entries handles in order.
struct Tables<'a> {
    file: &'a mut Writer,
    next: u32,
}

impl Tables<'_> {
    fn table(&mut self, name: &str, handle: u32, entries: usize) {
        self.file.pair(0, "TABLE");
        self.file.pair(2, name);
        self.file.handle(5, handle);
        self.file.pair(330, 0);
        self.file.pair(100, "AcDbSymbolTable");
        self.file.pair(70, entries);
    }

    /// An entry of a table up to its name and flags.
    fn entry(&mut self, kind: &str, table: u32, class: &str, name: &str) {
        let handle = self.next;
        self.next += 1;
        self.entry_with(kind, (5, handle), table, class, name);
    }

    fn entry_with(&mut self, kind: &str, (code, handle): (u16, u32), table: u32, class: &str, name: &str) {
        self.file.pair(0, kind);
        self.file.handle(code, handle);
        self.file.handle(330, table);
        self.file.pair(100, "AcDbSymbolTableRecord");
        self.file.pair(100, class);
        self.file.pair(2, name);
    }

    fn end(&mut self) {
        self.file.pair(0, "ENDTAB");
    }
}

pub(super) fn tables<'a>(file: &mut Writer, extent: Rect, layers: impl ExactSizeIterator<Item = &'a String>) {
    file.pair(0, "SECTION");
    file.pair(2, "TABLES");
    let mut tables = Tables { file, next: handles::ENTRIES };
    viewport(&mut tables, extent);
    line_types(&mut tables);
    layer_table(&mut tables, layers);
    styles(&mut tables);
    for (name, handle) in [("VIEW", handles::VIEWS), ("UCS", handles::AXES)] {
        tables.table(name, handle, 0);
        tables.end();
    }
    tables.table("APPID", handles::APPLICATIONS, 1);
    tables.entry("APPID", handles::APPLICATIONS, "AcDbRegAppTableRecord", "ACAD");
    tables.file.pair(70, 0);
    tables.end();
    tables.table("DIMSTYLE", handles::DIMENSION_STYLES, 1);
    tables.file.pair(100, "AcDbDimStyleTable");
    let handle = tables.next;
    tables.next += 1;
    // Here the handle has a code of its own: 5 is taken by a block's name.
    tables.entry_with("DIMSTYLE", (105, handle), handles::DIMENSION_STYLES, "AcDbDimStyleTableRecord", TEXT_STYLE);
    tables.file.pair(70, 0);
    tables.end();
    tables.table("BLOCK_RECORD", handles::BLOCK_RECORDS, SPACES.len());
    for (name, record, layout) in SPACES {
        tables.entry_with("BLOCK_RECORD", (5, record), handles::BLOCK_RECORDS, "AcDbBlockTableRecord", name);
        tables.file.handle(340, layout);
    }
    tables.end();
    file.pair(0, "ENDSEC");
}

/// The view a reader opens with: all of the drawing.
fn viewport(tables: &mut Tables<'_>, extent: Rect) {
    tables.table("VPORT", handles::VIEWPORTS, 1);
    tables.entry("VPORT", handles::VIEWPORTS, "AcDbViewportTableRecord", "*Active");
    let file = &mut *tables.file;
    file.pair(70, 0);
    file.point(10, Point::ZERO);
    file.point(11, Point::new(1.0, 1.0));
    file.point(12, extent.center());
    file.point(13, Point::ZERO);
    file.point(14, Point::new(10.0, 10.0));
    file.point(15, Point::new(10.0, 10.0));
    file.space_point(16, Point::ZERO);
    file.number(36, 1.0);
    file.space_point(17, Point::ZERO);
    file.number(40, (extent.height() * 1.1).max(1.0));
    file.number(41, (extent.width() / extent.height().max(1.0)).max(1.0));
    tables.end();
}

fn line_types(tables: &mut Tables<'_>) {
    tables.table("LTYPE", handles::LINE_TYPES, LINE_KINDS.len() + 3);
    for name in ["ByBlock", "ByLayer", line_type(LineKind::Continuous)] {
        line_type_entry(tables, name, &[]);
    }
    for kind in LINE_KINDS {
        line_type_entry(tables, line_type(kind), &kind.dashes(DASHED_PEN));
    }
    tables.end();
}

/// One line type; dashes and gaps in turn, a gap is written negative.
fn line_type_entry(tables: &mut Tables<'_>, name: &str, dashes: &[f64]) {
    tables.entry("LTYPE", handles::LINE_TYPES, "AcDbLinetypeTableRecord", name);
    let file = &mut *tables.file;
    file.pair(70, 0);
    file.pair(3, "");
    file.pair(72, 65);
    file.pair(73, dashes.len());
    file.number(40, dashes.iter().sum());
    for (index, length) in dashes.iter().enumerate() {
        file.number(49, if index % 2 == 0 { *length } else { -length });
        file.pair(74, 0);
    }
}

fn layer_table<'a>(tables: &mut Tables<'_>, layers: impl ExactSizeIterator<Item = &'a String>) {
    tables.table("LAYER", handles::LAYERS, layers.len() + 1);
    // Layer 0 must be there in every file; nothing stands on it.
    for name in std::iter::once("0").chain(layers.map(String::as_str)) {
        tables.entry("LAYER", handles::LAYERS, "AcDbLayerTableRecord", name);
        tables.file.pair(70, 0);
        // Colour 7 is black on white, white on black.
        tables.file.pair(62, 7);
        tables.file.pair(6, line_type(LineKind::Continuous));
        // The pen is each entity's own.
        tables.file.pair(370, -3);
    }
    tables.end();
}

fn styles(tables: &mut Tables<'_>) {
    tables.table("STYLE", handles::STYLES, 1);
    tables.entry("STYLE", handles::STYLES, "AcDbTextStyleTableRecord", TEXT_STYLE);
    let file = &mut *tables.file;
    file.pair(70, 0);
    file.number(40, 0.0);
    file.number(41, 1.0);
    file.number(50, 0.0);
    file.pair(71, 0);
    file.number(42, 2.5);
    file.pair(3, "txt");
    file.pair(4, "");
    tables.end();
}

pub(super) fn blocks(file: &mut Writer) {
    file.pair(0, "SECTION");
    file.pair(2, "BLOCKS");
    for ((name, record, _), [begin, end]) in SPACES.into_iter().zip(handles::BLOCKS) {
        for (kind, handle) in [("BLOCK", begin), ("ENDBLK", end)] {
            file.pair(0, kind);
            file.handle(5, handle);
            file.handle(330, record);
            file.pair(100, "AcDbEntity");
            if record == handles::PAPER_SPACE {
                file.pair(67, 1);
            }
            file.pair(8, 0);
            file.pair(100, if kind == "BLOCK" { "AcDbBlockBegin" } else { "AcDbBlockEnd" });
            if kind == "BLOCK" {
                file.pair(2, name);
                file.pair(70, 0);
                file.space_point(10, Point::ZERO);
                file.pair(3, name);
                file.pair(1, "");
            }
        }
    }
    file.pair(0, "ENDSEC");
}

pub(super) fn objects(file: &mut Writer) {
    file.pair(0, "SECTION");
    file.pair(2, "OBJECTS");
    let mut dictionary = |handle: u32, owner: u32, entries: &[(&str, u32)]| {
        file.pair(0, "DICTIONARY");
        file.handle(5, handle);
        file.handle(330, owner);
        file.pair(100, "AcDbDictionary");
        file.pair(281, 1);
        for (name, target) in entries {
            file.pair(3, name);
            file.handle(350, *target);
        }
    };
    dictionary(handles::DICTIONARY, 0, &[("ACAD_GROUP", handles::GROUPS), ("ACAD_LAYOUT", handles::LAYOUTS)]);
    dictionary(handles::GROUPS, handles::DICTIONARY, &[]);
    dictionary(
        handles::LAYOUTS,
        handles::DICTIONARY,
        &[("Model", handles::MODEL_LAYOUT), ("Layout1", handles::PAPER_LAYOUT)],
    );
    for (order, (name, (_, record, layout))) in ["Model", "Layout1"].into_iter().zip(SPACES).enumerate() {
        layout_object(file, layout, name, order, record);
    }
    file.pair(0, "ENDSEC");
}

/// The layout of a space: how it would be plotted.
fn layout_object(file: &mut Writer, handle: u32, name: &str, order: usize, record: u32) {
    file.pair(0, "LAYOUT");
    file.handle(5, handle);
    file.handle(330, handles::LAYOUTS);
    file.pair(100, "AcDbPlotSettings");
    for code in [1, 2, 4, 6] {
        file.pair(code, "");
    }
    // No margins, no paper, one to one.
    for code in [40, 41, 42, 43, 44, 45, 46, 47, 48, 49, 140, 141] {
        file.number(code, 0.0);
    }
    file.number(142, 1.0);
    file.number(143, 1.0);
    // What is plotted is the model itself: 1024 says that this is the model's layout.
    file.pair(70, if order == 0 { 1024 } else { 0 });
    file.pair(72, 1);
    file.pair(73, 0);
    file.pair(74, 5);
    file.pair(7, "");
    file.pair(75, 16);
    file.number(147, 1.0);
    file.number(148, 0.0);
    file.number(149, 0.0);
    file.pair(100, "AcDbLayout");
    file.pair(1, name);
    file.pair(70, 1);
    file.pair(71, order);
    file.point(10, Point::ZERO);
    file.point(11, Point::new(420.0, 297.0));
    file.space_point(12, Point::ZERO);
    file.space_point(14, Point::ZERO);
    file.space_point(15, Point::ZERO);
    file.number(146, 0.0);
    file.space_point(13, Point::ZERO);
    file.space_point(16, Point::new(1.0, 0.0));
    file.number(17, 0.0);
    file.number(27, 1.0);
    file.number(37, 0.0);
    file.pair(76, 0);
    file.handle(330, record);
}
