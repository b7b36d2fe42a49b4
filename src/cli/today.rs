//! The day on the machine's clock; only `issue` asks for it.

use std::time::{SystemTime, UNIX_EPOCH};

use crate::spec::date::Date;

/// Today, in Coordinated Universal Time; none where the clock stands before 1970.
pub(super) fn today() -> Option<Date> {
    let seconds = SystemTime::now().duration_since(UNIX_EPOCH).ok()?.as_secs();
    day(seconds / 86_400)
}

/// The day so many days after 1970-01-01, in the Gregorian calendar.
fn day(days: u64) -> Option<Date> {
    let leap = |year: u64| year.is_multiple_of(4) && (!year.is_multiple_of(100) || year.is_multiple_of(400));
    let mut rest = days;
    let mut year = 1970;
    while rest >= if leap(year) { 366 } else { 365 } {
        rest -= if leap(year) { 366 } else { 365 };
        year += 1;
    }
    let february = if leap(year) { 29 } else { 28 };
    let lengths = [31, february, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31];
    for (month, length) in (1..).zip(lengths) {
        if rest < length {
            return Date::new(u16::try_from(year).ok()?, month, u8::try_from(rest + 1).ok()?);
        }
        rest -= length;
    }
    None
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn days_are_counted_as_the_calendar_counts_them() {
        // Days since 1970-01-01 by the Julian day numbers of the Astronomical Almanac: 2000-01-01 is JD 2451544.5,
        // 1970-01-01 is JD 2440587.5; the others by counting years of 365 and 366 days.
        for (days, expected) in [
            (0, "1970-01-01"),
            (10_957, "2000-01-01"),
            (11_016, "2000-02-29"),
            (11_322, "2000-12-31"),
            (20_513, "2026-03-01"),
        ] {
            assert_eq!(day(days).unwrap().to_string(), expected);
        }
    }

    #[test]
    fn the_clock_gives_a_day() {
        assert!(today().unwrap() > Date::new(2025, 1, 1).unwrap());
    }
}
