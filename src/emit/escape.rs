//! Text that can be nothing but text, in XML and in HTML alike.

use crate::paper::harmless;

/// Text for content and for quoted attributes; marks that hide or turn text, and signs XML 1.0 forbids, become the
/// replacement sign, white space becomes a space.
pub(super) fn escaped(text: &str) -> String {
    let mut out = String::with_capacity(text.len() + 8);
    for sign in harmless(text).chars() {
        match sign {
            '&' => out.push_str("&amp;"),
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '"' => out.push_str("&quot;"),
            '\'' => out.push_str("&#39;"),
            '\n' => out.push(' '),
            '\u{fffe}' | '\u{ffff}' => out.push('\u{fffd}'),
            _ => out.push(sign),
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The five signs of XML 1.0, section 2.4, and HTML's attribute values in quotes (WHATWG HTML, section 13.1.2.3).
    #[test]
    fn no_sign_of_markup_and_no_mark_that_turns_text_is_left() {
        assert_eq!(escaped("a<b>&\"c'"), "a&lt;b&gt;&amp;&quot;c&#39;");
        assert_eq!(escaped("x\u{202e}y\u{0}z\nw\u{ffff}"), "x\u{fffd}y\u{fffd}z w\u{fffd}");
    }
}
