//! Stamps: nine signs that say which data a print was made from.
//!
//! SHA-256 (FIPS 180-4) over a canonical text; 40 bits of it as eight signs of Crockford's base 32 in two groups,
//! and a ninth check sign from the same alphabet. The check sign is the sum of the signs, each weighted by its own
//! power of a primitive element of the field of 32 elements: one wrong sign always shows, and so do any two signs
//! that changed places, the check sign among them.

use sha2::{Digest, Sha256};

/// Crockford's alphabet: no I, L, O, U.
const ALPHABET: &[u8; 32] = b"0123456789ABCDEFGHJKMNPQRSTVWXYZ";

/// Signs of a stamp before its check sign.
const SIGNS: usize = 8;

/// A stamp: `7K3M 9QXT D`.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub struct Stamp(String);

/// What somebody typed that is no stamp.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Misread {
    /// A sign that no stamp has.
    Sign(char),
    /// So many signs instead of nine.
    Length(usize),
    /// Nine signs whose check sign does not fit: at least one of them is wrong.
    Check,
}

impl Stamp {
    /// The stamp of a canonical text.
    pub fn over(canonical: &str) -> Self {
        let digest = Sha256::digest(canonical.as_bytes());
        let bits = digest[..5].iter().fold(0_u64, |bits, byte| bits << 8 | u64::from(*byte));
        let signs: Vec<u8> = (0..SIGNS).rev().map(|group| (bits >> (5 * group) & 31) as u8).collect();
        let text: String = signs.iter().chain([&check_sign(&signs)]).map(|value| sign(*value)).collect();
        Self::grouped(&text)
    }

    /// Reads what was typed: capitals or not, with or without gaps and hyphens, O for 0, I and L for 1.
    ///
    /// # Errors
    /// What keeps it from being a stamp.
    pub fn read(typed: &str) -> Result<Self, Misread> {
        let signs = signs(typed)?;
        let (own, check) = match signs.as_slice() {
            [own @ .., check] if own.len() == SIGNS => (own, *check),
            _ => return Err(Misread::Length(signs.len())),
        };
        if check_sign(own) != check {
            return Err(Misread::Check);
        }
        Ok(Self::grouped(&signs.iter().map(|value| sign(*value)).collect::<String>()))
    }

    fn grouped(nine: &str) -> Self {
        Self(format!("{} {} {}", &nine[..4], &nine[4..SIGNS], &nine[SIGNS..]))
    }

    /// The stamp as printed.
    pub fn as_str(&self) -> &str {
        &self.0
    }

    /// How many slips of the pen lie between this stamp and what was typed: a wrong sign, one too many or too few,
    /// two neighbours swapped.
    pub fn slips(&self, typed: &str) -> usize {
        let tidy = |text: &str| {
            let kept = text.chars().filter(|c| c.is_alphanumeric());
            kept.map(|c| value(c).map_or(c, sign)).collect::<String>()
        };
        strsim::osa_distance(&tidy(&self.0), &tidy(typed))
    }
}

impl std::fmt::Display for Stamp {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(&self.0)
    }
}

/// Whether a text holds nothing but signs of a stamp, with gaps and hyphens.
pub fn is_of_signs(typed: &str) -> bool {
    signs(typed).is_ok_and(|signs| !signs.is_empty())
}

/// The values of the signs that were typed; gaps, hyphens and dots between them are nothing.
fn signs(typed: &str) -> Result<Vec<u8>, Misread> {
    let gap = |c: char| c.is_whitespace() || matches!(c, '-' | '–' | '‑' | '.' | '·' | '_');
    typed.chars().filter(|c| !gap(*c)).map(|c| value(c).ok_or(Misread::Sign(c))).collect()
}

fn sign(value: u8) -> char {
    char::from(ALPHABET[usize::from(value & 31)])
}

/// The value of a typed sign; the letters that the alphabet leaves out are the figures they look like.
fn value(typed: char) -> Option<u8> {
    let upper = match typed.to_ascii_uppercase() {
        'O' => '0',
        'I' | 'L' => '1',
        other => other,
    };
    let place = ALPHABET.iter().position(|known| char::from(*known) == upper)?;
    u8::try_from(place).ok()
}

/// The check sign: the signs weighted by α, α², α³ … and added, in the field of 32 elements.
///
/// The check sign itself weighs 1, so that all nine weights are different and none is nothing.
fn check_sign(signs: &[u8]) -> u8 {
    let mut weight = 1;
    signs.iter().fold(0, |sum, sign| {
        weight = doubled(weight);
        sum ^ product(*sign, weight)
    })
}

/// Times α in the field of 32 elements: the remainder by x⁵ + x² + 1, which is primitive.
const fn doubled(value: u8) -> u8 {
    let shifted = value << 1;
    if shifted & 32 == 0 { shifted } else { (shifted ^ 0b10_0101) & 31 }
}

fn product(mut left: u8, right: u8) -> u8 {
    let mut product = 0;
    for bit in 0..5 {
        if right >> bit & 1 == 1 {
            product ^= left;
        }
        left = doubled(left);
    }
    product
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_stamp_is_two_groups_of_four_and_a_check_sign() {
        // SHA-256 of "abc" begins BA7816BF 8F (FIPS 180-4, example of the secure hash standard).
        let stamp = Stamp::over("abc");
        let signs: String = stamp.as_str().chars().filter(|sign| *sign != ' ').collect();
        let bits = signs[..8].chars().fold(0_u64, |bits, sign| bits << 5 | u64::from(value(sign).unwrap()));
        assert_eq!(bits, 0xBA_7816_BF8F);
        assert_eq!(stamp.as_str().len(), 11);
        assert_eq!(Stamp::read(stamp.as_str()), Ok(stamp));
    }

    #[test]
    fn the_powers_of_the_weight_run_through_the_whole_field() {
        let mut seen = vec![1_u8];
        while seen.len() < 31 {
            seen.push(doubled(seen[seen.len() - 1]));
        }
        assert_eq!(doubled(seen[30]), 1);
        seen.sort_unstable();
        assert_eq!(seen, (1..32).collect::<Vec<u8>>());
    }

    /// The nine values of a stamp.
    fn nine(stamp: &Stamp) -> Vec<u8> {
        signs(stamp.as_str()).unwrap()
    }

    fn is_read(values: &[u8]) -> bool {
        Stamp::read(&values.iter().map(|value| sign(*value)).collect::<String>()).is_ok()
    }

    #[test]
    fn one_wrong_sign_always_shows() {
        for text in ["abc", "a board", "another", "", "1", "2", "3"] {
            let right = nine(&Stamp::over(text));
            for place in 0..right.len() {
                for other in (0..32).filter(|other| *other != right[place]) {
                    let mut wrong = right.clone();
                    wrong[place] = other;
                    assert!(!is_read(&wrong), "{text}: place {place}");
                }
            }
        }
    }

    #[test]
    fn two_signs_that_changed_places_always_show() {
        // Every pair of values at every pair of places, neighbours or not, the check sign among them.
        for first in 0..SIGNS {
            for second in first + 1..=SIGNS {
                for (one, other) in (0..32).flat_map(|one| (0..32).map(move |other| (one, other))) {
                    let mut right = nine(&Stamp::over("abc"));
                    right[first] = one;
                    if second < SIGNS {
                        right[second] = other;
                    }
                    right[SIGNS] = check_sign(&right[..SIGNS]);
                    let mut swapped = right.clone();
                    swapped.swap(first, second);
                    assert_eq!(is_read(&swapped), right[first] == right[second], "{first} {second}");
                }
            }
        }
    }

    #[test]
    fn what_is_typed_in_a_shop_is_understood() {
        let stamp =
            (0..).map(|n| Stamp::over(&n.to_string())).find(|s| s.0.contains('0') && s.0.contains('1')).unwrap();
        let text = stamp.as_str();
        for typed in [
            text.to_lowercase(),
            text.replace(' ', ""),
            text.replace(' ', "-"),
            text.replace('0', "O").replace('1', "l"),
            text.replace('0', "o").replace('1', "I"),
            format!("  {text} "),
        ] {
            assert_eq!(Stamp::read(&typed), Ok(stamp.clone()), "{typed}");
        }
        assert_eq!(Stamp::read("7K3M"), Err(Misread::Length(4)));
        assert_eq!(Stamp::read("7K3M 9QXU D"), Err(Misread::Sign('U')));
        assert_eq!(Stamp::read("½"), Err(Misread::Sign('½')));
        assert_eq!(Stamp::read(""), Err(Misread::Length(0)));
    }

    #[test]
    fn a_slip_is_one_sign_or_one_swap() {
        let stamp = Stamp::over("abc");
        let text: Vec<char> = stamp.as_str().chars().filter(|sign| *sign != ' ').collect();
        let typed = |signs: &[char]| signs.iter().collect::<String>().to_lowercase();
        assert_eq!(stamp.slips(&typed(&text)), 0);
        let mut swapped = text.clone();
        swapped.swap(2, 3);
        assert_eq!(stamp.slips(&typed(&swapped)), 1);
        assert_eq!(stamp.slips(&typed(&text[1..])), 1);
    }
}
