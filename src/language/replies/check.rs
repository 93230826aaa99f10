//! The replies of a language against the list of those that the program says.

use std::collections::BTreeSet;

use super::Replies;
use super::trouble::ReplyTrouble;
use super::value::Value;

/// A reply that the program says, with the values it gives to it.
#[derive(Debug, Clone, Copy)]
pub struct Required<'a> {
    pub key: &'a str,
    pub values: &'a [(&'a str, Kind<'a>)],
}

/// What a value of a reply can be.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Kind<'a> {
    /// Any text: a number in the language's style, a word, a list.
    Text,
    /// A whole number to choose a plural by.
    Count,
    /// One of these codes.
    Code(&'a [&'a str]),
}

impl<'a> Kind<'a> {
    /// Values to try: for a count, one of each plural category in most languages (Unicode CLDR).
    fn samples(self) -> Vec<Value<'a>> {
        match self {
            Kind::Text => vec![Value::from("7")],
            Kind::Count => [1, 0, 2, 3, 5, 11, 100].map(Value::Count).into(),
            Kind::Code(codes) => codes.iter().map(|code| Value::from(*code)).collect(),
        }
    }
}

impl Replies {
    /// Everything that differs from what the program says: keys and values missing, left over or of another kind,
    /// codes without words, and wordings that come out blank when put together with every code and plural.
    pub fn check(&self, required: &[Required<'_>]) -> Vec<ReplyTrouble> {
        let mut troubles = Vec::new();
        let known: BTreeSet<&str> = required.iter().map(|reply| reply.key).collect();
        for key in self.asks.keys().filter(|key| !known.contains(key.as_str())) {
            troubles.push(ReplyTrouble::UnknownKey { key: key.clone() });
        }
        for reply in required {
            let before = troubles.len();
            self.check_values(reply, &mut troubles);
            if troubles.len() == before {
                self.check_texts(reply, &mut troubles);
            }
        }
        troubles
    }

    fn check_values(&self, reply: &Required<'_>, troubles: &mut Vec<ReplyTrouble>) {
        let key = || reply.key.to_string();
        let Some(lengths) = self.asks.get(reply.key) else {
            troubles.push(ReplyTrouble::MissingKey { key: key() });
            return;
        };
        let mut found = BTreeSet::new();
        let mut add = |trouble| {
            // Two wordings often share a mistake; once is enough.
            if !troubles.contains(&trouble) {
                troubles.push(trouble);
            }
        };
        for (name, ask) in lengths.values().flat_map(|asks| &asks.0) {
            found.insert(name.as_str());
            let value = || name.clone();
            let Some((_, kind)) = reply.values.iter().find(|(given, _)| given == name) else {
                add(ReplyTrouble::MissingValue { key: key(), value: value() });
                continue;
            };
            if ask.counted && *kind != Kind::Count {
                add(ReplyTrouble::NotACount { key: key(), value: value() });
            }
            for choice in &ask.choices {
                let Kind::Code(codes) = kind else {
                    add(ReplyTrouble::NotACode { key: key(), value: value() });
                    continue;
                };
                for code in codes.iter().filter(|code| !choice.has_words_for(code)) {
                    add(ReplyTrouble::MissingCode { key: key(), value: value(), code: code.to_string() });
                }
                for code in choice.codes.iter().filter(|code| !codes.contains(&code.as_str())) {
                    add(ReplyTrouble::UnknownCode { key: key(), value: value(), code: code.clone() });
                }
            }
        }
        // A language whose nouns do not change with their number has no use for a count.
        let may_rest = |kind: &Kind<'_>| matches!(kind, Kind::Count);
        for (name, _) in reply.values.iter().filter(|(name, kind)| !found.contains(name) && !may_rest(kind)) {
            add(ReplyTrouble::UnusedValue { key: key(), value: name.to_string() });
        }
    }

    /// Puts every wording together, each value in turn taking all its samples beside the first of the others.
    fn check_texts(&self, reply: &Required<'_>, troubles: &mut Vec<ReplyTrouble>) {
        let samples: Vec<(&str, Vec<Value<'_>>)> =
            reply.values.iter().map(|(name, kind)| (*name, kind.samples())).collect();
        let firsts = samples.iter().filter_map(|(name, samples)| Some((*name, samples.first()?.clone())));
        let base: Vec<(&str, Value<'_>)> = firsts.collect();
        let mut trials = vec![base.clone()];
        for (name, samples) in &samples {
            for sample in samples.iter().skip(1) {
                let changed = base.iter().map(|(other, value)| (*other, if other == name { sample } else { value }));
                trials.push(changed.map(|(name, value)| (name, value.clone())).collect());
            }
        }
        for &length in self.asks.get(reply.key).into_iter().flat_map(|lengths| lengths.keys()) {
            let trouble = trials.iter().find_map(|trial| match self.format(reply.key, length, trial) {
                Ok(text) if text.trim().is_empty() => Some(ReplyTrouble::Blank { key: reply.key.into(), length }),
                Ok(_) => None,
                Err(trouble) => Some(trouble),
            });
            troubles.extend(trouble);
        }
    }
}
