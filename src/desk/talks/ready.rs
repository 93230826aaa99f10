//! Replies that staff need again and again, in the grower's language, and the safety line that every reply carries.

use chrono::{DateTime, Utc};

use crate::desk::frame::words;
use crate::language::{Command, Field, Language};
use crate::reply::{PhoneText, Room, render};
use crate::talk::{Channel, Known, Safety, Say, Talk};
use crate::turn::{Turn, World, of_sheet, turn};

/// A ready-made reply.
pub struct Ready {
    /// By which the form names it.
    pub key: String,
    /// What staff read on its button.
    pub name: String,
    pub text: PhoneText,
    pub kind: ReadyKind,
}

/// What a ready-made reply does: pages show one kind together.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ReadyKind {
    Answer,
    Question,
    Caution,
}

impl ReadyKind {
    pub const ALL: [ReadyKind; 3] = [ReadyKind::Answer, ReadyKind::Question, ReadyKind::Caution];

    /// By which pages name it, and what staff read.
    pub fn named(self) -> (&'static str, &'static str) {
        match self {
            ReadyKind::Answer => ("answers", "What the program would say"),
            ReadyKind::Question => ("questions", "Questions"),
            ReadyKind::Caution => ("cautions", "Cautions"),
        }
    }
}

/// Words whose answers the program has on a sheet.
const ASKED: [(Command, &str); 7] = [
    (Command::Change, "what would make it enough"),
    (Command::Cost, "what it costs"),
    (Command::Sun, "how to turn the panels"),
    (Command::When, "when to water"),
    (Command::Setup, "how to set it up"),
    (Command::Care, "how to keep it running"),
    (Command::Help, "how to write to the program"),
];

/// The replies that fit a sheet: its answer first, what else the program would say of it, the questions, the cautions.
pub fn replies(world: &World, language: &Language, known: &Known, now: DateTime<Utc>) -> Vec<Ready> {
    let said = |say: Say| render(language, &[say], Room::Parts(1));
    let mut ready = Vec::new();
    let mut add = |kind, key: String, name: String, text: PhoneText| ready.push(Ready { key, name, text, kind });
    let talk = talk_of(language, known);
    let whole = (!known.is_empty()).then(|| answered(of_sheet(world, &talk, now))).flatten();
    let asked = ASKED.iter().map(|(command, name)| (*name, turned(world, language, &talk, *command, now)));
    let answers = std::iter::once(("the answer to this sheet", whole)).chain(asked);
    for (name, first) in answers {
        let (mut next, mut n) = (first, 1);
        while let Some(step) = next {
            let (key, name) = (format!("{}-{n}", name.replace(' ', "-")), words::said(name));
            let name = if n == 1 { name.into_owned() } else { format!("{name}, {n}") };
            add(ReadyKind::Answer, key, name, step.text);
            n += 1;
            let goes_on = step.talk.page.is_some() && n <= STEPS_MOST;
            next = goes_on.then(|| turned(world, language, &step.talk, Command::More, now)).flatten();
        }
    }
    for field in Field::ALL {
        let name = format!("{}: {}", words::said("ask"), words::said(field.name()));
        add(ReadyKind::Question, format!("ask-{}", field.name()), name, said(Say::Ask { field, beside_answer: false }));
    }
    for line in Safety::ALL {
        let name = format!("{}: {}", words::said("caution"), words::said(&line.code().replace('_', " ")));
        add(ReadyKind::Caution, format!("safety-{}", line.code()), name, said(Say::Safety(line)));
    }
    ready
}

/// Steps of an answer that goes on that are offered.
const STEPS_MOST: usize = 8;

/// What the program said, and where that left the talk.
struct Answered {
    text: PhoneText,
    talk: Talk,
}

/// A talk with this sheet, its tests and all.
fn talk_of(language: &Language, known: &Known) -> Talk {
    // Staff have looked at the values: none is asked back.
    let doubted = Field::ALL.to_vec();
    Talk { language: Some(language.code.clone()), known: known.clone(), doubted, ..Talk::default() }
}

/// What the program itself would answer to a word.
fn turned(world: &World, language: &Language, talk: &Talk, command: Command, now: DateTime<Utc>) -> Option<Answered> {
    answered(turn(world, talk, language.command(command)?, Channel::Sms, now))
}

fn answered(turn: Turn) -> Option<Answered> {
    Some(Answered { text: turn.reply?, talk: turn.talk })
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
