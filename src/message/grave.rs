//! Words that end, empty or refuse something count only where they stand as a command: "my pump stop working" is no wish
//! to hear nothing more, and "my new hose" begins no new sheet.
//!
//! Such a word counts as the first one of a message, or alone between two signs that part what is said; beside it only
//! words that carry nothing and other commands may stand. The words that opt out or delete count only alone: "stop watering
//! in october?" is a question, and "delete the lift" means the lift. A "no" also counts beside the word for reminders.
//! Phrases of several words say what they mean wherever they stand.
//!
//! "more" counts only alone or as the last word after a number ("pipe 40 more", and not "2 more panels"), a "yes" alone or first, and the words for setting up and for a person not beside numbers: "install 3
//! panels of 100 w" and "the agent said lift 3" tell of a set.

use crate::language::{Command, Field, next_piece};

use super::element::{Element, ElementKind};

/// Whether the word at `at` is meant as this command; `text` is the folded text.
pub fn is_meant(command: Command, list: &[Element], at: usize, text: &str) -> bool {
    let word = &list[at];
    let is_phrase = next_piece(text, word.start).is_some_and(|piece| piece.end < word.end);
    match command {
        Command::New | Command::Stop | Command::Start | Command::Forget | Command::No => {}
        // "which new pump is good" is no pump that was bought.
        Command::NewPump => return comes_first(command, list, at) || stands_alone(list, at),
        Command::More => return is_phrase || stands_alone(list, at) || ends_a_sheet(list, at),
        Command::Yes => return stands_alone(list, at) || list[..at].iter().all(carries_nothing),
        Command::Setup => return stands_alone(list, at) || !has_digits(list),
        Command::Person => return is_phrase || stands_alone(list, at) || !has_digits(list),
        _ => return true,
    }
    is_phrase || comes_first(command, list, at) || stands_alone(list, at) || refuses_reminder(command, list, at)
}

/// Whether such a word tells nothing where it is no command: an adjective, a "no" or an "of" within a sentence. The others
/// are told of, lest a grower waits for what was not done.
pub fn tells_nothing(command: Command) -> bool {
    matches!(
        command,
        Command::New | Command::NewPump | Command::No | Command::Yes | Command::More | Command::Setup | Command::Person
    )
}

/// "lift 4 pipe 35 more please": nothing after the word, a number or its unit before it.
fn ends_a_sheet(list: &[Element], at: usize) -> bool {
    let before = list[..at].iter().rev().find(|element| !carries_nothing(element));
    let counted = |element: &Element| {
        element.number().is_some() || element.meanings().is_some_and(|meanings| meanings.measure.is_some())
    };
    list[at + 1..].iter().all(carries_nothing) && before.is_some_and(counted)
}

fn has_digits(list: &[Element]) -> bool {
    list.iter().any(|element| matches!(element.kind, ElementKind::Number(_)))
}

/// The first word, after nothing but a greeting, and not the beginning of something else: a new hose, stop the pump.
fn comes_first(command: Command, list: &[Element], at: usize) -> bool {
    let before = &list[..at];
    let first = before.is_empty() || (list[at].parted && before.iter().all(carries_nothing));
    let next = list[at + 1..].iter().take_while(|element| !element.parted).find(|element| !carries_nothing(element));
    let field = next.and_then(|element| element.meanings()).and_then(|meanings| meanings.field);
    let begins_otherwise = match command {
        Command::New => matches!(
            field,
            Some(Field::Panel | Field::Pump | Field::Pipe | Field::Bore | Field::Wire | Field::Well | Field::Crop)
        ),
        // Whatever is to stop is not the messages.
        Command::Stop | Command::Forget => next.is_some_and(|next| !is_command(next)),
        Command::Start => field == Some(Field::Pump),
        _ => false,
    };
    first && !begins_otherwise
}

/// "remind no low" takes one reminder back.
fn refuses_reminder(command: Command, list: &[Element], at: usize) -> bool {
    let reminds = |other: Option<usize>| {
        let meanings = other.and_then(|other| list.get(other)).and_then(|element| element.meanings());
        meanings.is_some_and(|meanings| meanings.command == Some(Command::Remind))
    };
    command == Command::No && (reminds(at.checked_sub(1)) || reminds(Some(at + 1)))
}

fn stands_alone(list: &[Element], at: usize) -> bool {
    let from = (0..=at).rev().find(|&from| from == 0 || list[from].parted).unwrap_or(0);
    let to = (at + 1..list.len()).find(|&to| list[to].parted).unwrap_or(list.len());
    (from..to).all(|other| other == at || carries_nothing(&list[other]) || is_command(&list[other]))
}

fn is_command(element: &Element) -> bool {
    element.meanings().is_some_and(|meanings| meanings.command.is_some())
}

fn carries_nothing(element: &Element) -> bool {
    match element.kind {
        ElementKind::Nothing => true,
        ElementKind::Word(meanings) => {
            meanings.filler || (meanings.joiner.is_some() && meanings.measure.is_none()) || meanings.language
        }
        _ => false,
    }
}
