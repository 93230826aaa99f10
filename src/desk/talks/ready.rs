//! Replies that staff need again and again, in the grower's language, and the safety line that every reply carries.

use chrono::{DateTime, Utc};

use crate::language::{Field, Language};
use crate::message::print;
use crate::reply::{PhoneText, Room, render};
use crate::talk::{Channel, Known, Safety, Say, Talk, Topic};
use crate::turn::{World, turn};

/// A ready-made reply.
pub struct Ready {
    /// By which the form names it.
    pub key: String,
    /// What staff read on its button.
    pub name: String,
    pub text: PhoneText,
}

/// The replies that fit a sheet: its answer first, then the questions, then what else there is.
pub fn replies(world: &World, language: &Language, known: &Known, now: DateTime<Utc>) -> Vec<Ready> {
    let said = |say: Say| render(language, &[say], Room::Parts(1));
    let mut ready = Vec::new();
    if let Some(text) = answer(world, language, known, now) {
        ready.push(Ready { key: "answer".to_owned(), name: "the answer to this sheet".to_owned(), text });
    }
    for field in Field::ALL {
        let text = said(Say::Ask { field, beside_answer: false });
        ready.push(Ready { key: format!("ask-{}", field.name()), name: format!("ask: {}", field.name()), text });
    }
    for line in Safety::ALL {
        let name = format!("safety: {}", line.code().replace('_', " "));
        ready.push(Ready { key: format!("safety-{}", line.code()), name, text: said(Say::Safety(line)) });
    }
    ready.push(Ready {
        key: "help".to_owned(),
        name: "how to write".to_owned(),
        text: said(Say::Guide { topic: Topic::Help, step: "begin" }),
    });
    ready
}

/// What the program itself would answer to a sheet.
fn answer(world: &World, language: &Language, known: &Known, now: DateTime<Utc>) -> Option<PhoneText> {
    let text = print(&known.facts(), language);
    // Staff have looked at the values: none is asked back.
    let doubted = Field::ALL.to_vec();
    let talk = Talk { language: Some(language.code.clone()), doubted, ..Talk::default() };
    (!known.is_empty()).then(|| turn(world, &talk, &text, Channel::Sms, now).reply)?
}

/// The text with the safety line whose turn it is, unless it carries one already.
pub fn with_safety(language: &Language, text: &str, in_turn: Safety) -> String {
    let lines = Safety::ALL.map(|line| {
        // A line's shortest wording stands in a reply that had room for no more.
        let long = render(language, &[Say::Safety(line)], Room::Parts(1)).text;
        let short = language.replies.wordings("safety", &[("line", line.code().into())]).unwrap_or_default();
        (long, short)
    });
    let text = text.trim();
    let danger = language.replies.wordings("high-voltage", &[]).unwrap_or_default();
    if danger.iter().any(|line| text.contains(line.as_str())) {
        return text.to_owned();
    }
    if lines.iter().any(|(long, short)| text.contains(long) || short.iter().any(|short| text.contains(short.as_str()))) {
        return text.to_owned();
    }
    let line = Safety::ALL.iter().zip(&lines).find(|(line, _)| **line == in_turn).map_or("", |(_, (long, _))| long);
    format!("{text} {line}").trim().to_owned()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::language::Languages;

    #[test]
    fn every_text_carries_a_safety_line_and_none_carries_two() {
        let languages = Languages::shipped().unwrap();
        for language in languages.iter() {
            for line in Safety::ALL {
                let text = with_safety(language, "Come and see us on market day.", line);
                assert!(text.len() > "Come and see us on market day.".len());
                assert_eq!(with_safety(language, &text, Safety::SwitchOff), text);
            }
        }
    }
}
