//! The file of a language folder that says by which words somebody is known to be in danger, and what is answered.

mod rule;

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};

pub use rule::{Cluster, Part, Phrase, Rule, RuleFault, Word};

/// Letters of a line, so that it fits one message or screen with the emergency number and what was done.
const LINE_LETTERS: usize = 105;

/// What somebody is in danger of. The order is that in which lines are said where a message shows several: first what
/// would take a second life, a helper's.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum DangerKind {
    Shock,
    BadAir,
    InWater,
    Fire,
    NotBreathing,
    LiveWater,
    Poison,
    Hurt,
    Distress,
}

impl DangerKind {
    /// Every kind.
    pub const ALL: [DangerKind; 9] = {
        use DangerKind::*;
        [Shock, BadAir, InWater, Fire, NotBreathing, LiveWater, Poison, Hurt, Distress]
    };

    /// Its name in files and in JSON.
    pub fn name(self) -> &'static str {
        match self {
            DangerKind::Shock => "shock",
            DangerKind::BadAir => "bad_air",
            DangerKind::InWater => "in_water",
            DangerKind::Fire => "fire",
            DangerKind::NotBreathing => "not_breathing",
            DangerKind::LiveWater => "live_water",
            DangerKind::Poison => "poison",
            DangerKind::Hurt => "hurt",
            DangerKind::Distress => "distress",
        }
    }
}

/// Which of a kind's lines.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum DangerLine {
    /// What to do first, and what not to do.
    First,
    /// What comes next, when the first was said already.
    Again,
    /// Whether it is safe now.
    Safe,
    /// After the worst is over.
    Over,
}

impl DangerLine {
    /// Every line.
    pub const ALL: [DangerLine; 4] = [DangerLine::First, DangerLine::Again, DangerLine::Safe, DangerLine::Over];
}

/// All of `danger.toml`.
#[derive(Debug, Clone, Default)]
pub struct DangerFile {
    /// Right words that are one letter away from a danger word.
    pub plain: Vec<String>,
    pub tail: DangerTail,
    pub kinds: BTreeMap<DangerKind, DangerWords>,
    /// By which words somebody asks whether it is safe now.
    pub asks_safe: Vec<Rule>,
    /// By which words somebody tells that the worst is over.
    pub tells_over: Vec<Rule>,
}

/// What every line ends with.
#[derive(Debug, Clone, Default, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct DangerTail {
    call: String,
    /// Where the deployment has no emergency number.
    call_none: String,
    /// That a person was told.
    pub told: String,
}

impl DangerTail {
    /// Whom to call.
    pub fn call(&self, number: Option<&str>) -> String {
        number.map_or_else(|| self.call_none.clone(), |number| self.call.replace(NUMBER, number))
    }
}

/// Where the emergency number stands in a text.
const NUMBER: &str = "{ $number }";

/// One kind's words and lines.
#[derive(Debug, Clone)]
pub struct DangerWords {
    lines: [String; 4],
    pub seen: Vec<Rule>,
    /// Messages that show it.
    pub examples: Vec<String>,
    /// Messages that sound like it, and are of something else.
    pub not: Vec<String>,
}

impl DangerWords {
    /// What is said.
    pub fn line(&self, line: DangerLine) -> &str {
        &self.lines[line as usize]
    }
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct File {
    plain: Vec<String>,
    tail: DangerTail,
    groups: BTreeMap<String, Vec<String>>,
    shock: Kind,
    bad_air: Kind,
    in_water: Kind,
    fire: Kind,
    not_breathing: Kind,
    live_water: Kind,
    poison: Kind,
    hurt: Kind,
    distress: Kind,
    after: After,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Kind {
    line: String,
    again: String,
    safe: String,
    ok: String,
    seen: Vec<String>,
    examples: Vec<String>,
    not: Vec<String>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct After {
    safe: Vec<String>,
    ok: Vec<String>,
}

/// Why a file cannot be used.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum DangerFault {
    #[error("{0}")]
    Form(String),
    #[error("`{kind}` holds {rule:?}: {fault}")]
    Rule { kind: &'static str, rule: String, fault: RuleFault },
    #[error("a line of `{kind}` has {letters} letters; at most {LINE_LETTERS} fit")]
    Long { kind: &'static str, letters: usize },
    #[error("`tail.call` lacks {NUMBER}")]
    NoNumber,
}

impl DangerFile {
    /// Reads the file's text.
    ///
    /// # Errors
    /// What is missing, unknown, too long or no rule.
    pub fn parse(text: &str) -> Result<DangerFile, DangerFault> {
        let file: File = toml::from_str(text).map_err(|error| DangerFault::Form(error.message().to_owned()))?;
        if !file.tail.call.contains(NUMBER) {
            return Err(DangerFault::NoNumber);
        }
        let groups = &file.groups;
        let rules = |kind: &'static str, all: &[String]| -> Result<Vec<Rule>, DangerFault> {
            let read = |rule: &String| {
                Rule::parse(rule, groups).map_err(|fault| DangerFault::Rule { kind, rule: rule.clone(), fault })
            };
            all.iter().map(read).collect()
        };
        let mut kinds = BTreeMap::new();
        for (kind, words) in [
            (DangerKind::Shock, file.shock),
            (DangerKind::BadAir, file.bad_air),
            (DangerKind::InWater, file.in_water),
            (DangerKind::Fire, file.fire),
            (DangerKind::NotBreathing, file.not_breathing),
            (DangerKind::LiveWater, file.live_water),
            (DangerKind::Poison, file.poison),
            (DangerKind::Hurt, file.hurt),
            (DangerKind::Distress, file.distress),
        ] {
            let name = kind.name();
            let lines = [words.line, words.again, words.safe, words.ok];
            let longest = lines.iter().map(|line| line.chars().count()).max().unwrap_or_default();
            if longest > LINE_LETTERS {
                return Err(DangerFault::Long { kind: name, letters: longest });
            }
            let seen = rules(name, &words.seen)?;
            kinds.insert(kind, DangerWords { lines, seen, examples: words.examples, not: words.not });
        }
        let (asks_safe, tells_over) = (rules("after", &file.after.safe)?, rules("after", &file.after.ok)?);
        Ok(DangerFile { plain: file.plain, tail: file.tail, kinds, asks_safe, tells_over })
    }
}
