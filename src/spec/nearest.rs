//! The known name nearest to a misspelt one.

/// Gives the name that differs least from the one written, if it is near enough to have been meant.
///
/// Distance counts a letter added, dropped, changed, or two neighbours swapped as one; capitals, `-`, `_` and
/// spaces do not count. Up to a third of the letters may differ, at least one. Of equals the first is taken.
pub(crate) fn nearest<'n>(written: &str, known: impl IntoIterator<Item = &'n str>) -> Option<&'n str> {
    // Long nonsense is near to nothing; comparing it would only take time.
    if written.len() > 60 {
        return None;
    }
    let plain = |name: &str| name.to_lowercase().replace(['-', ' '], "_");
    let wanted = plain(written);
    known
        .into_iter()
        .map(|name| {
            let candidate = plain(name);
            let most = (wanted.chars().count().max(candidate.chars().count()) / 3).max(1);
            (strsim::damerau_levenshtein(&wanted, &candidate), most, name)
        })
        .filter(|(distance, most, _)| distance <= most)
        .min_by_key(|(distance, ..)| *distance)
        .map(|(_, _, name)| name)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_slip_is_near_and_another_word_is_not() {
        let known = ["tang_depth", "tang_width", "crown_width", "kerf"];
        assert_eq!(nearest("tang_dpeth", known), Some("tang_depth"));
        assert_eq!(nearest("Tang-Depth", known), Some("tang_depth"));
        assert_eq!(nearest("kref", known), Some("kerf"));
        assert_eq!(nearest("colour", known), None);
        assert_eq!(nearest("", known), None);
    }
}
