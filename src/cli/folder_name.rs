//! The folder that a commission number gives: safe on every system, never a way out of the output folder.

/// The longest folder name in bytes; systems allow 255, and the swap adds a few signs of its own.
const LONGEST: usize = 100;

/// Names that one family of systems keeps for devices, with any ending.
const DEVICES: [&str; 4] = ["con", "prn", "aux", "nul"];

/// The folder name for a commission number; none where nothing is left of it.
///
/// What a system may take for a path, a device or a steering sign becomes a hyphen; dots and spaces at the ends
/// fall away. Two numbers may so come to share a name: [`key`] tells.
pub(super) fn folder_name(number: &str) -> Option<String> {
    let keeps = |character: char| {
        !character.is_control() && !"/\\<>:\"|?*".contains(character) && !crate::diag::render::steers(character)
    };
    let safe: String = number.chars().map(|character| if keeps(character) { character } else { '-' }).collect();
    let trim =
        |text: &str| text.trim_matches(|character: char| character == '.' || character.is_whitespace()).to_owned();
    let mut name = apart_from_devices(trim(&safe));
    if name.len() > LONGEST {
        let end = (0..LONGEST).rev().find(|end| name.is_char_boundary(*end)).unwrap_or(0);
        name.truncate(end);
        name = apart_from_devices(trim(&name));
    }
    (!name.is_empty()).then_some(name)
}

/// What two folder names share if one system or another would take them for the same folder.
pub(super) fn key(folder_name: &str) -> String {
    folder_name.to_lowercase()
}

fn apart_from_devices(name: String) -> String {
    if is_device(&name) { format!("-{name}") } else { name }
}

fn is_device(name: &str) -> bool {
    let stem = name.split('.').next().unwrap_or(name).trim_end().to_lowercase();
    let port = ["com", "lpt"].iter().any(|port| {
        stem.strip_prefix(port).is_some_and(|rest| rest.chars().count() == 1 && rest.chars().all(char::is_numeric))
    });
    port || DEVICES.contains(&stem.as_str())
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;
    use proptest::test_runner::RngSeed;

    use super::*;

    #[test]
    fn an_ordinary_number_is_its_own_folder() {
        for number in ["K-118", "2026/7", "Nº 12", "a b"] {
            assert_eq!(folder_name(number).unwrap(), number.replace('/', "-"));
        }
    }

    #[test]
    fn no_number_leads_out_or_to_a_device() {
        for (number, name) in [
            ("../x", Some("-x")),
            ("..", None),
            (".", None),
            ("/etc/passwd", Some("-etc-passwd")),
            ("a\\b:c", Some("a-b-c")),
            ("a\0b\u{1b}c", Some("a-b-c")),
            (".hidden", Some("hidden")),
            ("end. ", Some("end")),
            ("nul", Some("-nul")),
            ("COM1.txt", Some("-COM1.txt")),
            ("console", Some("console")),
            ("  ", None),
            ("", None),
        ] {
            assert_eq!(folder_name(number).as_deref(), name, "{number:?}");
        }
    }

    #[test]
    fn a_long_number_is_cut_between_characters() {
        let name = folder_name(&"½".repeat(300)).unwrap();
        assert_eq!(name, "½".repeat(49));
    }

    #[test]
    fn numbers_that_differ_only_in_capitals_share_a_folder_somewhere() {
        assert_eq!(key("K-118"), key("k-118"));
    }

    proptest! {
        #![proptest_config(ProptestConfig { rng_seed: RngSeed::Fixed(1), failure_persistence: None, ..ProptestConfig::default() })]

        #[test]
        fn any_number_gives_one_plain_folder_or_none(number in ".*") {
            if let Some(name) = folder_name(&number) {
                let path = std::path::Path::new(&name);
                prop_assert_eq!(path.components().count(), 1);
                prop_assert!(matches!(path.components().next(), Some(std::path::Component::Normal(_))));
                prop_assert!(!name.starts_with('.') && name.len() <= LONGEST);
                prop_assert_eq!(folder_name(&name), Some(name.clone()), "once safe, it stays as it is");
            }
        }
    }
}
