//! A commission file as lines that can be exchanged key by key, without reading it as TOML: samples may be broken.

/// A file taken apart into its tables and keys.
#[derive(Clone)]
pub(crate) struct Patched {
    tables: Vec<Table>,
}

/// A table: its header line, and its keys as they are written.
#[derive(Clone)]
struct Table {
    header: String,
    keys: Vec<(String, String)>,
}

impl Patched {
    /// Takes a file apart.
    pub(crate) fn of(text: &str) -> Self {
        let mut tables = vec![Table { header: String::new(), keys: Vec::new() }];
        for line in text.lines().filter(|line| !line.trim().is_empty() && !line.starts_with('#')) {
            if line.starts_with('[') {
                tables.push(Table { header: line.to_owned(), keys: Vec::new() });
            } else {
                let last = tables.last_mut().unwrap();
                match line.split_once('=') {
                    Some((key, _)) if !line.starts_with(' ') => {
                        last.keys.push((key.trim().to_owned(), line.to_owned()));
                    }
                    // What goes on over several lines belongs to the key before it.
                    _ => {
                        let (_, written) = last.keys.last_mut().unwrap();
                        *written = format!("{written}\n{line}");
                    }
                }
            }
        }
        Self { tables }
    }

    /// Lays a patch over it: key by key, or, if `whole`, table by table. A row of a list takes the place of the row that
    /// has its name, key by key, and goes to the end of the list; one with a new name is added.
    pub(crate) fn with(mut self, patch: &str, whole: bool) -> Self {
        for table in Self::of(patch).tables.into_iter().filter(|table| !table.keys.is_empty()) {
            let is_row = table.header.starts_with("[[");
            let same = |own: &Table| {
                own.header == table.header && (!is_row || own.name().is_some() && own.name() == table.name())
            };
            if is_row && let Some(at) = self.tables.iter().position(same) {
                let own = self.tables.remove(at);
                self.tables.push(own);
            }
            match self.tables.iter_mut().find(|own| same(own)) {
                Some(own) => {
                    if whole {
                        own.keys.clear();
                    }
                    for (key, written) in table.keys {
                        own.set(key, written);
                    }
                }
                None => self.tables.push(table),
            }
        }
        self
    }

    /// Gives one key another value; of a key of a list, in one row after the other.
    pub(crate) fn each_with_value(&self, key: &str, value: &str) -> Vec<Self> {
        let (table, name) = key.rsplit_once('.').unwrap();
        let row = format!("[[{table}]]");
        let rows = self.tables.iter().enumerate().filter(|(_, own)| own.header == row);
        let changed = rows.map(|(at, _)| {
            let mut all = self.clone();
            all.tables[at].set(name.to_owned(), format!("{name} = {value}"));
            all
        });
        let changed: Vec<Self> = changed.collect();
        if changed.is_empty() { vec![self.clone().with_value(key, value)] } else { changed }
    }

    /// Gives one key, `board.thickness` or `board.blank.length`, another value.
    pub(crate) fn with_value(mut self, key: &str, value: &str) -> Self {
        let (table, name) = key.rsplit_once('.').unwrap();
        let header = format!("[{table}]");
        if let Some(own) = self.tables.iter_mut().find(|own| own.header == header) {
            own.set(name.to_owned(), format!("{name} = {value}"));
            return self;
        }
        let (outer, inner) = table.rsplit_once('.').unwrap();
        let own = self.tables.iter_mut().find(|own| own.header == format!("[{outer}]")).unwrap();
        let (_, written) = own.keys.iter_mut().find(|(key, _)| key == inner).unwrap();
        let from = written.find(&format!("{name} = ")).unwrap();
        let until = from + written[from..].find([',', '}']).unwrap();
        written.replace_range(from..until, &format!("{name} = {value} "));
        self
    }

    /// The file.
    pub(crate) fn text(&self) -> String {
        let mut text = String::new();
        for table in &self.tables {
            text.push_str(&table.header);
            text.push('\n');
            for (_, written) in &table.keys {
                text.push_str(written);
                text.push('\n');
            }
        }
        text
    }
}

impl Table {
    /// The value of its key `name`, as written.
    fn name(&self) -> Option<&str> {
        let (_, written) = self.keys.iter().find(|(key, _)| key == "name")?;
        Some(written.split_once('=')?.1.trim())
    }

    fn set(&mut self, key: String, written: String) {
        match self.keys.iter_mut().find(|(own, _)| *own == key) {
            Some((_, own)) => *own = written,
            None => self.keys.push((key, written)),
        }
    }
}
