//! Names of accounts and keys, which the audit tells people apart by: none may look like another, and none may hold what
//! nobody sees.

use unicode_security::{GeneralSecurityProfile, MixedScript, skeleton};

use crate::printable::hidden_in;

/// No name is longer; a typed one that is can be nobody's.
pub const NAME_MOST: usize = 64;

#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum NameError {
    #[error("the name is empty or over {NAME_MOST} characters; give another one")]
    Length,
    #[error("the name holds a character that is not seen or that no name has; write letters, digits, spaces, - ' and .")]
    Hidden,
    #[error("the name mixes letters of several scripts, which look alike; write it in one")]
    Mixed,
    #[error("the name looks like {0:?}, which is there; give another one")]
    Alike(String),
}

/// A name as it is kept.
pub fn name_of(typed: &str) -> Result<String, NameError> {
    let name = typed.split(' ').filter(|word| !word.is_empty()).collect::<Vec<_>>().join(" ");
    if name.is_empty() || name.chars().count() > NAME_MOST {
        return Err(NameError::Length);
    }
    let is_good = |letter: char| " -'’._".contains(letter) || GeneralSecurityProfile::identifier_allowed(letter);
    if hidden_in(&name).is_some() || !name.chars().all(is_good) {
        return Err(NameError::Hidden);
    }
    if !name.is_single_script() {
        return Err(NameError::Mixed);
    }
    Ok(name)
}

/// Refuses a name that looks like one of those that are there (Unicode Technical Standard 39, confusables).
pub fn unlike<'n>(name: &str, others: impl Iterator<Item = &'n str>) -> Result<(), NameError> {
    let look = look_of(name);
    let mut others = others;
    others.find(|other| look_of(other) == look).map_or(Ok(()), |other| Err(NameError::Alike(other.to_owned())))
}

fn look_of(name: &str) -> String {
    // As it is written and in small letters: I and l are alike in one of the two only.
    let small: String = skeleton(name).collect::<String>().to_lowercase();
    skeleton(&small).filter(|letter| letter.is_alphanumeric()).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_of_people_are_taken() {
        for good in ["Asha", "Baraka Mto", "O'Neil", "Aïssatou", "Ngũgĩ", "Аша", "season-survey", "Дмитрий"] {
            assert_eq!(name_of(good), Ok(good.to_owned()), "{good}");
        }
        assert_eq!(name_of("  Asha   Mto "), Ok("Asha Mto".to_owned()));
    }

    #[test]
    fn what_is_not_seen_or_mixed_is_refused() {
        for (bad, why) in [
            ("", NameError::Length),
            ("Ash\u{200b}a", NameError::Hidden),
            ("Asha\u{202e}", NameError::Hidden),
            ("As\u{ad}ha", NameError::Hidden),
            ("Asha\n", NameError::Hidden),
            ("\u{1b}[2JAsha", NameError::Hidden),
            ("Asha\u{3164}", NameError::Hidden),
            ("Аsha", NameError::Mixed),
        ] {
            assert_eq!(name_of(bad), Err(why), "{bad:?}");
        }
    }

    #[test]
    fn a_name_that_looks_like_another_is_refused() {
        // The second is all in Cyrillic letters.
        for (name, other) in [("Asha", "asha"), ("сора", "copa"), ("A1ice", "Alice"), ("Asha.", "Asha"), ("rn", "m")] {
            assert!(unlike(name, [other].into_iter()).is_err(), "{name} {other}");
        }
        assert!(unlike("Baraka", ["Asha", "Baraka Mto"].into_iter()).is_ok());
    }
}
