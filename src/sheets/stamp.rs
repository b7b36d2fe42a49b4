//! Stamps: nine signs that say which data a print was made from.
//!
//! SHA-256 (FIPS 180-4) over the commission's number, hand and part numbers, the sheet's name and its data as
//! rounded for print; 40 bits of it as eight signs of Crockford's base 32 in two groups, and a ninth check sign
//! from the same alphabet. Neither prose nor paper, page, letter or date moves a stamp.

use sha2::{Digest, Sha256};

/// Crockford's alphabet: no I, L, O, U.
const ALPHABET: &[u8; 32] = b"0123456789ABCDEFGHJKMNPQRSTVWXYZ";

/// A stamp: `7K3M 9QXT D`.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub struct Stamp(String);

impl Stamp {
    /// The stamp of a canonical text.
    pub fn over(canonical: &str) -> Self {
        let digest = Sha256::digest(canonical.as_bytes());
        let bits = digest[..5].iter().fold(0_u64, |bits, byte| bits << 8 | u64::from(*byte));
        let signs: Vec<u8> = (0..8).rev().map(|group| (bits >> (5 * group) & 31) as u8).collect();
        let sign = |value: u8| char::from(ALPHABET[usize::from(value)]);
        let text: String = signs.iter().map(|value| sign(*value)).collect();
        Self(format!("{} {} {}", &text[..4], &text[4..], sign(check_sign(&signs))))
    }

    /// The stamp as printed.
    pub fn as_str(&self) -> &str {
        &self.0
    }
}

impl std::fmt::Display for Stamp {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(&self.0)
    }
}

/// The check sign: the signs weighted by 3, 5, 7 … (all odd, so that one wrong sign always shows), modulo 32.
///
/// Neighbours differ in weight by 2, so swapping two neighbours shows unless they differ by 16.
fn check_sign(signs: &[u8]) -> u8 {
    let sum: u32 = signs.iter().zip((3_u32..).step_by(2)).map(|(sign, weight)| u32::from(*sign) * weight).sum();
    (sum % 32) as u8
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_stamp_is_two_groups_of_four_and_a_check_sign() {
        // SHA-256 of "abc" begins BA7816BF 8F (FIPS 180-4, example of the secure hash standard).
        let stamp = Stamp::over("abc");
        let signs: String = stamp.as_str().chars().filter(|sign| *sign != ' ').collect();
        let bits = signs[..8]
            .bytes()
            .fold(0_u64, |bits, sign| bits << 5 | ALPHABET.iter().position(|known| *known == sign).unwrap() as u64);
        assert_eq!(bits, 0xBA_7816_BF8F);
        assert_eq!(stamp.as_str().len(), 11);
    }

    #[test]
    fn one_wrong_sign_always_changes_the_check_sign() {
        let signs: Vec<u8> = vec![1, 17, 30, 4, 9, 12, 31, 0];
        for place in 0..signs.len() {
            for other in (0..32).filter(|other| *other != signs[place]) {
                let mut wrong = signs.clone();
                wrong[place] = other;
                assert_ne!(check_sign(&wrong), check_sign(&signs));
            }
        }
    }
}
