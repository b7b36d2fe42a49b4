//! Woods: weight, dust, movement, and whether the species is under trade control.
//!
//! Movement follows the Wood Handbook (FPL-GTR-190), equation 13-2 with table 13-5; a species that the table
//! leaves out gets its coefficient from its shrinkage, which is how the table itself was made.

use std::str::FromStr;
use std::sync::LazyLock;

use serde::Deserialize;

use super::table::{DataFile, cell};
use crate::units::Density;

pub(super) const DATA: DataFile = DataFile { name: "woods", text: include_str!("data/woods.csv") };
pub(super) const LISTINGS: DataFile = DataFile { name: "listings", text: include_str!("data/listings.csv") };

static WOODS: LazyLock<Vec<Wood>> = LazyLock::new(|| DATA.rows());
static LISTED: LazyLock<Vec<Listing>> = LazyLock::new(|| LISTINGS.rows());

/// What is to be said of every listed species: the table ages, the law does not wait for it.
pub const LISTING_PROMPT: &str = "Appendices change: look up the entry in force today before the wood or the instrument crosses a border, \
     and keep the papers of this very piece.";

/// One wood.
#[derive(Debug, Clone, PartialEq, Deserialize)]
pub struct Wood {
    /// The id that a commission writes (`board.wood`).
    pub id: String,
    /// The name to print.
    pub name: String,
    /// The species.
    pub species: String,
    /// Weight per volume, air-dry (about 12 % moisture).
    #[serde(rename = "density_kg_per_m3", deserialize_with = "cell::density")]
    pub density: Density,
    /// Where the density comes from.
    pub density_source: String,
    /// Whether its oil keeps glue off: wipe the joint just before gluing (common practice, no source).
    #[serde(deserialize_with = "cell::yes_or_no")]
    pub oily: bool,
    /// What its dust does; empty says that the sources record nothing, not that the dust is harmless.
    #[serde(deserialize_with = "cell::words")]
    pub dust: Vec<DustReaction>,
    /// Where the dust acts, as far as the source says.
    #[serde(deserialize_with = "cell::words")]
    pub dust_sites: Vec<DustSite>,
    /// Which source says so; empty where nothing is recorded.
    pub dust_source: String,
    #[serde(rename = "listing")]
    listing_id: Option<String>,
    shrinkage_radial_percent: Option<f64>,
    shrinkage_tangential_percent: Option<f64>,
    /// Where the shrinkage comes from; empty where none is known.
    pub shrinkage_source: String,
    change_radial_per_percent: Option<f64>,
    change_tangential_per_percent: Option<f64>,
}

/// How much of its width a wood gains for each per cent of moisture, as a part of the width; good from 6 % to 14 %.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Movement {
    /// Across a quarter-sawn face.
    pub radial: f64,
    /// Across a flat-sawn face.
    pub tangential: f64,
}

/// What a dust does to people.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum DustReaction {
    /// Irritates.
    Irritant,
    /// Sensitises: each exposure may make the next one worse.
    Sensitiser,
    /// Is recorded with cancer of the nose.
    NasalCancer,
    /// Inflames the lungs.
    Pneumonitis,
    /// Makes sick.
    Nausea,
    /// Makes wheeze.
    Wheezing,
    /// Makes giddy.
    Giddiness,
    /// Gives headaches.
    Headache,
    /// Leaves sores.
    Lesions,
}

/// Where a dust acts.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum DustSite {
    /// The eyes.
    Eyes,
    /// The skin.
    Skin,
    /// The airways.
    Airways,
}

/// A taxon in the appendices, as far as this table knows.
#[derive(Debug, Clone, PartialEq, Eq, Deserialize)]
pub struct Listing {
    /// The id that rows of the wood table point to.
    pub id: String,
    /// The taxon, with its populations.
    pub taxon: String,
    /// The appendix: I or II.
    pub appendix: String,
    /// The annotation's number; empty where all parts are listed.
    pub annotation: String,
    /// Since when, year first.
    pub since: String,
    /// What the listing covers, in our own words.
    pub covers: String,
    /// How well this row is known.
    pub standing: String,
}

/// All woods, in the table's order.
pub fn woods() -> &'static [Wood] {
    &WOODS
}

/// The wood of an id, written exactly.
pub fn wood(id: &str) -> Option<&'static Wood> {
    WOODS.iter().find(|wood| wood.id == id)
}

/// The wood that a shop's wood is: by its id, else by the name it is printed with.
pub fn wood_named(id: &str, name: &str) -> Option<&'static Wood> {
    wood(id).or_else(|| WOODS.iter().find(|known| known.name == name))
}

/// All listings.
pub fn listings() -> &'static [Listing] {
    &LISTED
}

impl Wood {
    /// The listing that the species falls under; none says only that this table knows of none.
    pub fn listing(&self) -> Option<&'static Listing> {
        let id = self.listing_id.as_deref()?;
        LISTED.iter().find(|listing| listing.id == id)
    }

    /// How the wood moves with moisture: table 13-5, else from the shrinkage; none where neither is published.
    pub fn movement(&self) -> Option<Movement> {
        let along = |table: Option<f64>, shrinkage: Option<f64>| table.or_else(|| shrinkage.map(change_per_percent));
        Some(Movement {
            radial: along(self.change_radial_per_percent, self.shrinkage_radial_percent)?,
            tangential: along(self.change_tangential_per_percent, self.shrinkage_tangential_percent)?,
        })
    }
}

/// The coefficient of change for a shrinkage from green to oven-dry, in per cent: the size at 10 % moisture is the
/// base and shrinking begins at 30 % (this reproduces table 13-5 of the Wood Handbook from its tables 4-3 and 4-4).
fn change_per_percent(shrinkage: f64) -> f64 {
    let per_percent = shrinkage / 30.0;
    per_percent / (100.0 - 20.0 * per_percent)
}

impl DustReaction {
    const WORDS: [(&'static str, Self); 9] = [
        ("irritant", Self::Irritant),
        ("sensitiser", Self::Sensitiser),
        ("nasal cancer", Self::NasalCancer),
        ("pneumonitis", Self::Pneumonitis),
        ("nausea", Self::Nausea),
        ("wheezing", Self::Wheezing),
        ("giddiness", Self::Giddiness),
        ("headache", Self::Headache),
        ("lesions", Self::Lesions),
    ];

    /// The word that the table and the sheets use.
    ///
    /// # Panics
    /// Never: every reaction has its word.
    pub fn word(self) -> &'static str {
        Self::WORDS.iter().find(|(_, reaction)| *reaction == self).expect("every reaction has its word").0
    }
}

impl FromStr for DustReaction {
    type Err = String;

    fn from_str(word: &str) -> Result<Self, String> {
        let found = Self::WORDS.iter().find(|(known, _)| *known == word);
        found.map(|(_, reaction)| *reaction).ok_or_else(|| format!("`{word}` is not a reaction to dust"))
    }
}

impl DustSite {
    /// The word that the table and the sheets use.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Eyes => "eyes",
            Self::Skin => "skin",
            Self::Airways => "airways",
        }
    }
}

impl FromStr for DustSite {
    type Err = String;

    fn from_str(word: &str) -> Result<Self, String> {
        let found = [Self::Eyes, Self::Skin, Self::Airways].into_iter().find(|site| site.word() == word);
        found.ok_or_else(|| format!("`{word}` is not a place where dust acts"))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn woods_weigh_what_woods_can_weigh_and_name_their_source() {
        for wood in woods() {
            let density = wood.density.to_kilograms_per_cubic_metre();
            assert!((150.0..=1400.0).contains(&density), "{}: {density}", wood.id);
            assert!(!wood.density_source.is_empty(), "{}", wood.id);
            assert_eq!(wood.dust.is_empty(), wood.dust_source.is_empty(), "{}", wood.id);
            assert!(wood.dust_sites.is_empty() || !wood.dust.is_empty(), "{}", wood.id);
        }
    }

    #[test]
    fn a_density_from_specific_gravity_is_that_gravity_with_twelve_per_cent_of_water() {
        // Wood Handbook, chapter 4: density = 1000 · G(M) · (1 + M/100).
        let mut seen = 0;
        for wood in woods() {
            let Some(rest) = wood.density_source.strip_prefix("specific gravity ") else { continue };
            let gravity: f64 = rest.split(' ').next().unwrap().parse().unwrap();
            let density = wood.density.to_kilograms_per_cubic_metre();
            assert!((density - 1000.0 * gravity * 1.12).abs() <= 0.8, "{}: {density}", wood.id);
            seen += 1;
        }
        assert!(seen > 10);
    }

    #[test]
    fn wood_moves_more_across_a_flat_sawn_face() {
        for wood in woods() {
            assert_eq!(wood.movement().is_none(), wood.shrinkage_source.is_empty(), "{}", wood.id);
            if let Some(movement) = wood.movement() {
                assert!(movement.radial > 0.000_5 && movement.radial < movement.tangential, "{}", wood.id);
                assert!(movement.tangential < 0.006, "{}", wood.id);
            }
        }
    }

    #[test]
    fn coefficients_from_shrinkage_reproduce_the_published_table() {
        // Wood Handbook FPL-GTR-190: table 13-5 against tables 4-3 and 4-4, to the table's last place. White oak is
        // left out: table 13-5 has the commercial group, not the species.
        let mut compared = 0;
        for wood in woods().iter().filter(|wood| wood.id != "white oak") {
            for (table, shrinkage) in [
                (wood.change_radial_per_percent, wood.shrinkage_radial_percent),
                (wood.change_tangential_per_percent, wood.shrinkage_tangential_percent),
            ] {
                let (Some(table), Some(shrinkage)) = (table, shrinkage) else { continue };
                assert!((change_per_percent(shrinkage) - table).abs() <= 0.000_006, "{}: {table}", wood.id);
                compared += 1;
            }
        }
        assert!(compared >= 20);
    }

    #[test]
    fn a_listed_wood_has_its_listing_and_every_listing_its_wood() {
        for wood in woods() {
            assert_eq!(wood.listing_id.is_some(), wood.listing().is_some(), "{}", wood.id);
        }
        for listing in listings() {
            assert!(woods().iter().any(|wood| wood.listing() == Some(listing)), "{}", listing.id);
            assert!(["I", "II", "III"].contains(&listing.appendix.as_str()), "{}", listing.id);
            assert!(["partly verified", "from memory"].contains(&listing.standing.as_str()), "{}", listing.id);
        }
    }
}
