//! Where the words of a rule stand near each other.

use smallvec::SmallVec;

use super::words::Heard;

/// Words within which all of a rule must stand.
const NEAR: usize = 12;

/// Words that may stand between one part of a cluster and the next.
const SOON: usize = 3;

/// Words in a row, by their numbers.
pub type Phrase = SmallVec<[u16; 3]>;

/// A rule with its words as numbers; see `language::Rule`.
#[derive(Debug)]
pub struct Rule {
    pub with: Vec<Vec<Vec<Phrase>>>,
    pub without: Vec<Vec<Vec<Phrase>>>,
}

impl Rule {
    /// Whether a message shows it.
    pub fn is_shown(&self, heard: &Heard) -> bool {
        let Some((first, others)) = self.with.split_first() else { return false };
        let within = |cluster: &[Vec<Phrase>], at: usize| {
            let to = (at + NEAR + 1).min(heard.len());
            (at.saturating_sub(NEAR)..to).any(|start| ends_at(cluster, heard, start).is_some())
        };
        (0..heard.len()).any(|at| {
            ends_at(first, heard, at).is_some()
                && others.iter().all(|cluster| within(cluster, at))
                && !self.without.iter().any(|cluster| within(cluster, at))
        })
    }
}

/// The end of a cluster that begins with a word of the message.
fn ends_at(cluster: &[Vec<Phrase>], heard: &Heard, start: usize) -> Option<usize> {
    let (part, rest) = cluster.split_first()?;
    part.iter().find_map(|phrase| {
        let end = start + phrase.len();
        let words = heard.get(start..end)?;
        if !words.iter().zip(phrase).all(|(numbers, number)| numbers.contains(number)) {
            return None;
        }
        if rest.is_empty() {
            return Some(end);
        }
        (end..=end + SOON).find_map(|next| ends_at(rest, heard, next))
    })
}
