//! The letters of issues: A … Z, AA, AB … ZZ, AAA ….

/// The letter of an issue by its place, from 0.
pub fn letter(place: usize) -> String {
    let mut letters = Vec::new();
    let mut rest = place + 1;
    while rest > 0 {
        rest -= 1;
        letters.push(char::from(b'A' + u8::try_from(rest % 26).unwrap_or(0)));
        rest /= 26;
    }
    letters.iter().rev().collect()
}

/// Whether a text could be the letter of an issue.
pub fn is_letter(text: &str) -> bool {
    (1..=4).contains(&text.len()) && text.bytes().all(|byte| byte.is_ascii_uppercase())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn letters_go_on_after_z() {
        for (place, expected) in [(0, "A"), (1, "B"), (25, "Z"), (26, "AA"), (27, "AB"), (701, "ZZ"), (702, "AAA")] {
            assert_eq!(letter(place), expected);
            assert!(is_letter(expected));
        }
        for other in ["", "a", "A1", "main", "HEAD~1", "ABCDE"] {
            assert!(!is_letter(other), "{other}");
        }
    }
}
