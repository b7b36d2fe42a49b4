//! The hazards that this commission really has, each in its one home: a line for the sheets of its station, and a
//! row for the safety notes.
//!
//! The usual cautions of a small shop. Each defers to local law, to the makers' sheets and to licensed practice;
//! none replaces them. Common practice, no source, where none is named.

use super::{Job, Station};
use crate::catalog;

/// One hazard.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Hazard {
    /// Where it is met.
    pub(super) stations: &'static [Station],
    /// The machine or stuff.
    pub(super) of: &'static str,
    /// What it does.
    pub(super) does: String,
    /// What to wear or keep away.
    pub(super) wear: &'static str,
    /// What to check before starting.
    pub(super) check: &'static str,
    /// The same in one line, for the sheets of its stations.
    pub(super) line: String,
}

/// What every line ends with.
pub(super) const DEFERS: &str = "Local rules and the maker's sheet come first.";

/// The hazards of a commission, in the order of the work.
pub(super) fn hazards(job: &Job<'_>) -> Vec<Hazard> {
    let mut hazards = vec![wood_dust(job), saw(), noise()];
    let bores = job.design.markers.as_ref().is_ok_and(|markers| !markers.is_empty())
        || job.design.side_dots.as_ref().is_ok_and(|dots| !dots.is_empty());
    if bores || job.model.lamp.is_some() {
        hazards.push(drill());
    }
    if job.model.lamp.is_some() {
        hazards.extend([router(), solder(), battery(job), epoxy()]);
    }
    hazards.extend([sanding(), wire_ends()]);
    hazards
}

/// The cautions of a station in one paragraph; none where it has no hazard.
pub(super) fn caution(job: &Job<'_>, station: Station) -> Option<String> {
    let lines: Vec<String> = hazards(job)
        .into_iter()
        .filter(|hazard| hazard.stations.contains(&station))
        .map(|hazard| hazard.line)
        .collect();
    (!lines.is_empty()).then(|| format!("{} {DEFERS}", lines.join(" ")))
}

/// What the catalogue knows of the board's wood.
pub(super) fn board_wood(job: &Job<'_>) -> Option<&'static catalog::Wood> {
    let wood = job.model.board.wood.get().ok()?;
    catalog::wood_named(&wood.id, &wood.name)
}

fn wood_dust(job: &Job<'_>) -> Hazard {
    let known = board_wood(job).filter(|wood| !wood.dust.is_empty() || cancer_word(wood).is_some());
    let does = known.map_or_else(
        || {
            "Fine dust harms the airways. For this species our table records nothing more: that is not an all-clear."
                .to_owned()
        },
        |wood| {
            let reactions: Vec<&str> = wood.dust.iter().map(|reaction| reaction.word()).collect();
            let sites: Vec<&str> = wood.dust_sites.iter().map(|site| site.word()).collect();
            let sites = if sites.is_empty() { String::new() } else { format!(" ({})", sites.join(", ")) };
            let recorded = (!reactions.is_empty()).then(|| format!("{}{sites}", reactions.join(", ")));
            let cancer = cancer_word(wood).map(|word| format!("cancer {word}"));
            format!("Dust of {}: {}.", wood.name, recorded.into_iter().chain(cancer).collect::<Vec<_>>().join("; "))
        },
    );
    Hazard {
        stations: &[Station::Saw, Station::Drill, Station::Sander, Station::Router],
        of: "wood dust",
        line: format!("{does} Extraction on, mask on."),
        does,
        wear: "Extraction at the tool, a well-fitting particle mask, glasses; wash hands and face, no dust home on clothes.",
        check: "Extraction draws, bag not full; the mask seals on shaved skin all round. A beard under its edge lets dust in: wear a hood with its own fan.",
    }
}

/// Woods whose dust is held to cause cancer, by genus. Source: the ACGIH threshold's own note, as the OSHA chemical
/// sampling page `CH_276185` quotes it (archived 2012); it stands with the limits on the builder's page.
const CANCER: [(&str, &str); 6] = [
    ("Quercus", "confirmed"),
    ("Fagus", "confirmed"),
    ("Betula", "suspected"),
    ("Swietenia", "suspected"),
    ("Tectona", "suspected"),
    ("Juglans", "suspected"),
];

fn cancer_word(wood: &catalog::Wood) -> Option<&'static str> {
    let genus = wood.species.split(' ').next();
    CANCER.iter().find(|(own, _)| Some(*own) == genus).map(|(_, word)| *word)
}

fn saw() -> Hazard {
    Hazard {
        stations: &[Station::Saw],
        of: "slotting saw, thin stock",
        does: "The blade pulls in fingers; thin stock lifts, and a narrow piece kicks back.".to_owned(),
        wear: "Glasses, ears covered; no gloves, no loose sleeves at the blade.",
        check: "Guard in place, blade sharp and tight, sled without play, fingers outside the blade's line all the way.",
        line: "Glasses on, guard on, board held down in the sled, fingers outside the line of the blade, no gloves."
            .to_owned(),
    }
}

fn noise() -> Hazard {
    Hazard {
        stations: &[Station::Saw, Station::Router],
        of: "noise",
        does: "Saws and routers are loud enough to cost hearing within minutes, for good.".to_owned(),
        wear: "Ear protection from the first cut to the last.",
        check: "Protection on before the switch.",
        line: "Ears covered.".to_owned(),
    }
}

fn drill() -> Hazard {
    Hazard {
        stations: &[Station::Drill],
        of: "drill",
        does: "A small piece climbs the bit and spins.".to_owned(),
        wear: "Glasses; no gloves, hair and sleeves tied back.",
        check: "Board clamped on a flat backing; the stop proved on the offcut.",
        line: "Board clamped, never held by hand; glasses on, no gloves at the spindle.".to_owned(),
    }
}

fn router() -> Hazard {
    Hazard {
        stations: &[Station::Router],
        of: "router, narrow channels",
        does: "The cutter grabs a small piece; a climb cut runs away with it; a thin cutter snaps.".to_owned(),
        wear: "Glasses, ears covered, mask.",
        check: "Board fixed over its whole length; depth in steps; feed against the cutter's turn.",
        line: "Board fixed over its whole length, feed against the cutter, depth in steps, glasses on.".to_owned(),
    }
}

fn solder() -> Hazard {
    Hazard {
        stations: &[Station::Solder],
        of: "soldering",
        does: "Burns; flux fume harms the airways; leaded solder is poison by hand and mouth.".to_owned(),
        wear: "Glasses; fume drawn off; wash hands before food.",
        check: "Battery out; iron in its stand; nothing oily or solvent-wet near it.",
        line: "Battery out before soldering, fume drawn off, glasses on, wash hands.".to_owned(),
    }
}

fn battery(job: &Job<'_>) -> Hazard {
    let lithium = job
        .model
        .circuit
        .as_ref()
        .and_then(|circuit| circuit.chemistry.as_ref())
        .and_then(|chemistry| chemistry.get().ok())
        .is_some_and(|chemistry| is_lithium(&chemistry));
    let does = if lithium {
        "A lithium cell that is shorted, pierced, crushed or overcharged burns, and water alone may not stop it."
    } else {
        "A shorted battery heats wires and leaks."
    };
    Hazard {
        stations: &[Station::Solder],
        of: "battery",
        does: does.to_owned(),
        wear: "Terminals covered until the last step.",
        check: if lithium {
            "Protected cell with its own cut-off, the maker's charger, never soldered to; transport rules for lithium cells."
        } else {
            "Polarity marked; the switch cuts the feed; spent ones to collection."
        },
        line: if lithium {
            "Lithium cell: never short, pierce or solder it; only a protected cell with its maker's charger.".to_owned()
        } else {
            "Battery terminals covered until the last step.".to_owned()
        },
    }
}

/// Whether the words for a chemistry name lithium: "lithium", "Li-ion", "`LiFePO4`", but not "alkaline".
fn is_lithium(chemistry: &str) -> bool {
    let words = chemistry.to_lowercase();
    words
        .split(|c: char| !c.is_alphanumeric())
        .any(|word| word.starts_with("lith") || word == "li" || word.starts_with("lipo") || word.starts_with("life"))
}

fn epoxy() -> Hazard {
    Hazard {
        stations: &[Station::Epoxy],
        of: "epoxy",
        does: "Resin and hardener sensitise the skin, once and for all; a cup of it heats by itself and may smoke."
            .to_owned(),
        wear: "Nitrile gloves, changed when soiled; glasses; sleeves; fresh air. Sanding dust of fresh epoxy counts as epoxy.",
        check: "The maker's sheet read; no more mixed than can be poured in its pot life; leftovers spread flat to cure.",
        line: "No skin contact: nitrile gloves, glasses, fresh air. Mixed epoxy heats in the cup: pour, do not wait."
            .to_owned(),
    }
}

fn sanding() -> Hazard {
    Hazard {
        stations: &[Station::Sander],
        of: "sanding, planing",
        does: "The finest dust of all; belts and blocks take skin.".to_owned(),
        wear: "Mask, extraction, glasses.",
        check: "Board fixed; no sanding of uncured epoxy.",
        line: "Glasses on; sand nothing that is not cured.".to_owned(),
    }
}

fn wire_ends() -> Hazard {
    Hazard {
        stations: &[Station::Press],
        of: "fret wire",
        does: "Nipped ends fly; cut ends are sharp.".to_owned(),
        wear: "Glasses, also for whoever stands by.",
        check: "Nip into a box or a cloth; bevel the ends before the board is handed on.",
        line: "Glasses on: nipped ends fly. Cut ends are sharp.".to_owned(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn alkaline_is_not_lithium() {
        assert!(["lithium", "Li-ion", "LiPo cell", "LiFePO4", "9 V lithium"].into_iter().all(is_lithium));
        assert!(!["alkaline", "carbon-zinc", "nickel", "olive"].into_iter().any(is_lithium));
    }
}
