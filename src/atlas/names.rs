//! Towns by name.

use std::collections::BTreeMap;
use std::sync::LazyLock;

use unicode_normalization::UnicodeNormalization;
use unicode_normalization::char::is_combining_mark;

use super::station::{Station, stations};

/// Letters from which on one slip, and two slips, still leave a name to be asked about (practice).
const ONE_SLIP_FROM: usize = 4;
const TWO_SLIPS_FROM: usize = 8;

/// The form in which names are compared: letters and digits only, in lower case, without accents.
pub fn name_key(name: &str) -> String {
    name.nfkd()
        .filter(|letter| !is_combining_mark(*letter))
        .flat_map(char::to_lowercase)
        .filter(|letter| letter.is_alphanumeric())
        .collect()
}

/// The station of a town.
pub fn town(name: &str) -> Option<&'static Station> {
    static BY_KEY: LazyLock<BTreeMap<String, &'static Station>> = LazyLock::new(|| {
        let named = stations().iter().flat_map(|station| station_names(station).map(move |name| (name_key(name), station)));
        named.collect()
    });
    BY_KEY.get(&name_key(name)).copied()
}

/// The name among `own` and the towns of the atlas that was most nearly typed, `own` first where both are as near.
///
/// Slips are letters left out, added, changed, or swapped with their neighbour (Damerau-Levenshtein distance, optimal
/// string alignment): one in a name of four letters or more, two from eight on. A name of which only the beginning was
/// typed, four letters or more and a third at least, is near too, unless two towns begin so.
pub fn near_name<'a>(typed: &str, own: impl Iterator<Item = &'a str>) -> Option<&'a str> {
    let typed = name_key(typed);
    let known: Vec<(String, &'a str)> = own
        .map(|name| (name_key(name), name))
        .chain(stations().iter().flat_map(|s| station_names(s).map(|name| (name_key(name), s.town.as_str()))))
        .collect();
    let slips = |(key, name): &(String, &'a str)| {
        let allowed = match typed.chars().count().min(key.chars().count()) {
            TWO_SLIPS_FROM.. => 2,
            ONE_SLIP_FROM.. => 1,
            _ => return None,
        };
        let distance = strsim::osa_distance(&typed, key);
        (distance <= allowed).then_some((distance, *name))
    };
    // The first of equals, since `own` stands first.
    if let Some((_, name)) = known.iter().filter_map(slips).min_by_key(|(distance, _)| *distance) {
        return Some(name);
    }
    let is_start = |key: &str| typed.len() >= ONE_SLIP_FROM && key.len() <= 3 * typed.len() && key.starts_with(&typed);
    let mut begun = known.iter().filter(|(key, _)| is_start(key)).map(|(_, name)| *name);
    let first = begun.next()?;
    begun.all(|other| other == first).then_some(first)
}

fn station_names(station: &Station) -> impl Iterator<Item = &str> {
    std::iter::once(&station.town).chain(&station.also).map(String::as_str)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn case_accents_and_signs_do_not_matter() {
        for (typed, found) in [
            ("DODOMA", "Dodoma"),
            ("dódomà", "Dodoma"),
            ("ndjamena", "N'Djamena"),
            ("Bobo Dioulasso", "Bobo-Dioulasso"),
            ("dar es-salaam", "Dar es Salaam"),
            ("Cairo", "Helwan"),
        ] {
            assert_eq!(town(typed).map(|station| station.town.as_str()), Some(found), "{typed}");
        }
        assert_eq!(town("Upper Kito"), None);
        assert_eq!(town(" - "), None);
    }

    #[test]
    fn a_slip_is_near_and_two_in_a_long_name() {
        let own = || ["Kito", "Mwanzo"].into_iter();
        for (typed, near) in [
            ("Dodma", Some("Dodoma")),
            ("Ddooma", Some("Dodoma")),
            ("Ougadougo", Some("Ouagadougou")),
            ("Kitu", Some("Kito")),
            // As near to Mwanza; the deployment's own comes first.
            ("Mwanz", Some("Mwanzo")),
            ("Antanan", Some("Antananarivo")),
            ("Kit", None),
            ("Kassel", None),
            ("Zzyzx", None),
            ("", None),
        ] {
            assert_eq!(near_name(typed, own()), near, "{typed}");
        }
    }
}
