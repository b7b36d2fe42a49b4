//! Notes of strings: `E4`, `F#3`, `Bb2`.

/// A note by its letter, accidental and octave (scientific pitch notation: A4 is 440 Hz, ISO 16).
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Note {
    /// As it is printed: `F#3`.
    pub name: String,
    /// Semitones in the usual count, A4 = 69.
    pub semitone: i32,
}

impl Note {
    /// Reads a note; octaves 0 to 9.
    pub fn from_text(text: &str) -> Option<Self> {
        let mut signs = text.trim().chars();
        let letter = signs.next()?.to_ascii_uppercase();
        let above_c = match letter {
            'C' => 0,
            'D' => 2,
            'E' => 4,
            'F' => 5,
            'G' => 7,
            'A' => 9,
            'B' => 11,
            _ => return None,
        };
        let rest: String = signs.collect();
        let (shift, sign, octave) = match rest.chars().next()? {
            '#' | '♯' => (1, "#", rest.trim_start_matches(['#', '♯'])),
            'b' | '♭' => (-1, "b", rest.trim_start_matches(['b', '♭'])),
            _ => (0, "", rest.as_str()),
        };
        let single = sign.is_empty() || rest.chars().count() == octave.chars().count() + 1;
        let mut digits = octave.chars();
        let (Some(digit), None, true) = (digits.next(), digits.next(), single) else { return None };
        let octave = i32::try_from(digit.to_digit(10)?).ok()?;
        Some(Self { name: format!("{letter}{sign}{octave}"), semitone: 12 * (octave + 1) + above_c + shift })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn notes_are_counted_from_a4_as_69() {
        // Scientific pitch notation; A4 = 440 Hz by ISO 16.
        for (text, name, semitone) in [
            ("A4", "A4", 69),
            ("E4", "E4", 64),
            ("c4", "C4", 60),
            ("F#3", "F#3", 54),
            ("Bb2", "Bb2", 46),
            ("B♭2", "Bb2", 46),
            ("B0", "B0", 23),
        ] {
            assert_eq!(Note::from_text(text), Some(Note { name: name.to_owned(), semitone }), "{text}");
        }
        for text in ["", "H2", "E", "4", "E44", "E-1", "E##3", "Ebb3", "E#", "E½"] {
            assert_eq!(Note::from_text(text), None, "{text}");
        }
    }
}
