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

    /// Lays a patch over it: key by key, or, if `whole`, table by table.
    pub(crate) fn with(mut self, patch: &str, whole: bool) -> Self {
        for table in Self::of(patch).tables.into_iter().filter(|table| !table.keys.is_empty()) {
            let own = self.tables.iter_mut().find(|own| own.header == table.header);
            match own {
                Some(own) if !table.header.starts_with("[[") => {
                    if whole {
                        own.keys.clear();
                    }
                    for (key, written) in table.keys {
                        own.set(key, written);
                    }
                }
                _ => self.tables.push(table),
            }
        }
        self
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
    fn set(&mut self, key: String, written: String) {
        match self.keys.iter_mut().find(|(own, _)| *own == key) {
            Some((_, own)) => *own = written,
            None => self.keys.push((key, written)),
        }
    }
}
