//! Text that Markdown cannot take for structure: each character of it stands in a private plane of Unicode while
//! the text is parsed, and comes back to its own place afterwards.
//!
//! So a newline, `1.`, `|` or a backtick in a value is only ever a character of that value.

/// Start of the plane: U+F0000 stands for U+0000, and so on through the basic plane.
const PLANE: u32 = 0xF_0000;

/// The text with every character of the basic plane moved to the private one; other private characters of that
/// plane stay as they are, so that doing it twice does no harm. An empty text gives a sign that comes back as nothing.
pub fn inert(text: &str) -> String {
    if text.is_empty() {
        return moved('\0').to_string();
    }
    text.chars().map(moved).collect()
}

fn moved(c: char) -> char {
    match u32::from(c) {
        code @ 0..=0xFFFF => char::from_u32(PLANE + code).unwrap_or(c),
        _ => c,
    }
}

/// What [`inert`] took in, with its breaks of lines as spaces; other text stays as it is.
pub fn restored(text: &str) -> String {
    text.chars()
        .filter_map(|c| match u32::from(c) {
            PLANE => None,
            code @ 0xF_0001..=0xF_FFFF => match char::from_u32(code - PLANE) {
                Some('\n' | '\r') => Some(' '),
                own => own,
            },
            _ => Some(c),
        })
        .collect()
}

/// A text from outside without characters of the private plane: they could pass for [`inert`] ones.
pub fn without_private(text: &str) -> String {
    let is_private = |c: char| (0xF_0000..=0x10_FFFF).contains(&u32::from(c));
    text.chars().map(|c| if is_private(c) { char::REPLACEMENT_CHARACTER } else { c }).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn inert_text_comes_back_but_for_its_line_breaks() {
        let text = "1. a | b `c` {{ d }} <e>\t½Ω";
        assert!(inert(text).chars().all(|c| u32::from(c) >= PLANE));
        assert_eq!(restored(&inert(&inert(text))), text);
        assert_eq!(restored(&inert("a\n- b")), "a - b");
        assert_eq!(restored(&inert("")), "");
    }

    #[test]
    fn private_characters_from_outside_are_replaced() {
        assert_eq!(without_private("a\u{F000A}b\u{10FFFD}"), "a\u{FFFD}b\u{FFFD}");
    }
}
