//! From the lines of a filled-in text back to the lines of the template that it came of.
//!
//! Before a template is filled in, its lines get a mark each that no text has of its own; the marks come through
//! filling in, loops and includes, and are taken out before the text is read.

/// The first of the signs that number a mark within its template: of the last private plane, which values cannot hold.
const FIRST_MARK: u32 = 0x10_0000;

/// The first of the signs that number the template.
const FIRST_TEMPLATE: u32 = 0x10_8000;

/// Signs that a mark takes.
pub(super) const LENGTH: usize = 2;

/// A mark: of which template, and which of its marks.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Mark {
    /// The template's number.
    pub(super) template: usize,
    /// The mark's number within it, from 0.
    pub(super) number: usize,
}

/// A template with its marks set, each before the byte named.
pub(super) fn marked(text: &str, marks: &[usize], template: usize) -> String {
    let mut all = String::with_capacity(text.len() + marks.len() * 8);
    let mut from = 0;
    for (number, at) in marks.iter().enumerate() {
        all.push_str(text.get(from..*at).unwrap_or_default());
        all.extend([sign(FIRST_MARK, number), sign(FIRST_TEMPLATE, template)].into_iter().flatten());
        from = *at;
    }
    all.push_str(text.get(from..).unwrap_or_default());
    all
}

fn sign(first: u32, number: usize) -> Option<char> {
    u32::try_from(number)
        .ok()
        .filter(|number| *number < FIRST_TEMPLATE - FIRST_MARK)
        .and_then(|n| char::from_u32(first + n))
}

/// A filled-in text without its marks, and the mark that governs each of its lines: the last before anything is printed
/// there, for what a line begins with may come of a loop's end; else the last before.
pub(super) fn unmarked(text: &str) -> (String, Vec<Option<Mark>>) {
    let mut plain = String::with_capacity(text.len());
    let mut lines = Vec::new();
    let (mut own, mut last, mut printed) = (None, None, false);
    let mut number = 0;
    for c in text.chars() {
        match u32::from(c) {
            code @ FIRST_MARK..FIRST_TEMPLATE => number = code - FIRST_MARK,
            code @ FIRST_TEMPLATE.. => {
                let mark = Mark { template: (code - FIRST_TEMPLATE) as usize, number: number as usize };
                own = if printed { own.or(Some(mark)) } else { Some(mark) };
                last = Some(mark);
            }
            _ => {
                plain.push(c);
                printed = c != '\n' && (printed || !c.is_whitespace());
                if c == '\n' {
                    lines.push(own.take().or(last));
                }
            }
        }
    }
    lines.push(own.or(last));
    (plain, lines)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn marks_go_in_and_come_out_again() {
        let text = "one\n\n  twö\nthree";
        let with = marked(text, &[0, 7, 12], 3);
        assert_ne!(with, text);
        let (plain, lines) = unmarked(&with);
        assert_eq!(plain, text);
        let numbers: Vec<Option<usize>> = lines.iter().map(|mark| mark.map(|mark| mark.number)).collect();
        assert_eq!(numbers, [Some(0), Some(0), Some(1), Some(2)]);
        assert!(lines.iter().flatten().all(|mark| mark.template == 3));
    }
}
