//! Foreign text made harmless for a terminal.

/// A text in which every character that could steer a terminal or turn the reading order is shown, not obeyed.
///
/// Control characters (C0, delete, C1) and the marks that change the direction of text become `\u{…}`; a tab
/// and a line break become a space, so that one finding stays on its line.
pub fn visible(text: &str) -> String {
    let mut shown = String::with_capacity(text.len());
    for character in text.chars() {
        match character {
            '\t' | '\n' => shown.push(' '),
            character if steers(character) => shown.extend(character.escape_unicode()),
            character => shown.push(character),
        }
    }
    shown
}

/// Whether a character steers the terminal or the reading order instead of standing for itself.
pub fn steers(character: char) -> bool {
    character.is_control()
        || matches!(character, '\u{061c}' | '\u{200e}' | '\u{200f}' | '\u{2028}'..='\u{202e}' | '\u{2066}'..='\u{2069}')
}

/// A source text with what steers replaced by as many bytes of something harmless, so that every span still holds.
///
/// Line breaks and tabs stay: the rendering of source lines handles them.
pub(super) fn harmless_source(text: &str) -> String {
    text.chars()
        .map(|character| match (steers(character), character.len_utf8()) {
            (false, _) | (true, 0) => character,
            (true, _) if matches!(character, '\n' | '\r' | '\t') => character,
            (true, 1) => '?',
            (true, 2) => '¿',
            (true, _) => char::REPLACEMENT_CHARACTER,
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn escapes_are_shown_and_not_obeyed() {
        assert_eq!(visible("a\u{1b}[31mb\u{9b}2J\u{202e}c\nd"), "a\\u{1b}[31mb\\u{9b}2J\\u{202e}c d");
        assert_eq!(visible("½ in ± 0.1 mm, Ω"), "½ in ± 0.1 mm, Ω");
    }

    #[test]
    fn a_harmless_source_keeps_every_byte_in_its_place() {
        let text = "a\u{1b}b\u{9b}c\u{202e}d\r\n\te ½";
        let harmless = harmless_source(text);
        assert_eq!(harmless.len(), text.len());
        assert_eq!(harmless, "a?b¿c\u{fffd}d\r\n\te ½");
    }
}
