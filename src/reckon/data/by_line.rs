//! A shipped file read by the line: one figure of it is had without making sense of all the others.
//!
//! A reckoning takes hardly longer than the program's start, and reading a whole file would be most of the rest. What is
//! shipped keeps to a few forms, which a test below holds it to; a shop's own file may be any TOML and is read as such.

/// Returns an entry of a table as it is written: a number, or a text without its quotes.
pub(super) fn entry<'t>(file: &'t str, table: &str, name: &str) -> Option<&'t str> {
    let is_head = |line: &&str| line.strip_prefix('[').and_then(|line| line.strip_suffix(']')) == Some(table);
    let lines = file.lines().skip_while(|line| !is_head(line)).skip(1);
    let written = value(lines.take_while(|line| !line.starts_with('[')), name)?;
    match written.strip_prefix('"') {
        Some(text) => text.split('"').next(),
        None => written.split([' ', '#']).next(),
    }
}

/// Returns the keys of all entries, `wall.thin`.
pub(super) fn keys(file: &str) -> Vec<String> {
    let mut table = "";
    let mut keys = Vec::new();
    for line in file.lines().filter(|line| !line.starts_with('#')) {
        match (line.strip_prefix('[').and_then(|line| line.strip_suffix(']')), line.split_once(" =")) {
            (Some(name), _) => table = name,
            (None, Some((name, _))) => keys.push(format!("{table}.{name}")),
            (None, None) => {}
        }
    }
    keys
}

/// Returns a text of many lines, or of one, that stands before all tables.
pub(super) fn block<'t>(file: &'t str, name: &str) -> Option<&'t str> {
    let written = value(file.lines(), name)?;
    let Some(first) = written.strip_prefix("\"\"\"") else { return written.strip_prefix('"')?.split('"').next() };
    let from = first.as_ptr() as usize - file.as_ptr() as usize;
    file.get(from..)?.split("\"\"\"").next()
}

/// Returns what stands after a name and `=`.
fn value<'t>(mut lines: impl Iterator<Item = &'t str>, name: &str) -> Option<&'t str> {
    lines.find_map(|line| line.strip_prefix(name)?.trim_start().strip_prefix('=').map(str::trim_start))
}

#[cfg(test)]
mod tests {
    use super::{block, entry, keys};

    #[test]
    fn every_threshold_is_read_as_toml_reads_it() {
        let file = include_str!("../../../guides/data/practice.toml");
        let tables: toml::Table = file.parse().expect("it is TOML");
        let mut n = 0;
        for (table, entries) in &tables {
            for (name, value) in entries.as_table().expect("a table") {
                let written = entry(file, table, name).expect("it is found");
                assert!(keys(file).contains(&format!("{table}.{name}")), "{table}.{name}");
                match value.as_str() {
                    Some(text) => assert_eq!(written, text),
                    None => {
                        let number = value.as_float().or(value.as_integer().map(|n| n as f64)).expect("a number");
                        assert_eq!(written.parse(), Ok(number), "{table}.{name}");
                    }
                }
                n += 1;
            }
        }
        assert!(n > 20, "{n}");
        assert_eq!(keys(file).len(), n);
        assert_eq!((entry(file, "wall", "thick"), entry(file, "walls", "thin")), (None, None));
    }

    #[test]
    fn every_set_of_bits_is_read_as_toml_reads_it() {
        let file = include_str!("../../../guides/data/drills.toml");
        let sets: toml::Table = file.parse().expect("it is TOML");
        assert!(sets.len() > 4, "{sets:?}");
        for (name, text) in &sets {
            let (read, text) = (block(file, name).expect("it is found"), text.as_str().expect("a text"));
            assert_eq!(read.trim_start_matches('\n'), text, "{name}");
        }
        assert_eq!(block(file, "imperial"), None);
    }
}
