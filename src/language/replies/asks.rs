//! What each wording asks for, read from its syntax tree, so that every branch is known and not only the one taken.

use std::collections::{BTreeMap, BTreeSet};

use fluent_bundle::FluentResource;
use fluent_syntax::ast::{Entry, Expression, InlineExpression, Message, Pattern, PatternElement, Term};
use fluent_syntax::ast::{Variant, VariantKey};

use super::trouble::ReplyTrouble;
use super::value::{Length, Value};

/// The plural categories of Unicode CLDR.
const PLURALS: [&str; 6] = ["zero", "one", "two", "few", "many", "other"];

/// The values that a wording asks for, by name.
#[derive(Debug, Default)]
pub(super) struct Asks(pub(super) BTreeMap<String, Ask>);

/// How one value is used.
#[derive(Debug, Default)]
pub(super) struct Ask {
    /// A plural is chosen by it.
    pub(super) counted: bool,
    /// The choices made by it as a code.
    pub(super) choices: Vec<Choice>,
}

/// One choice by a code.
#[derive(Debug)]
pub(super) struct Choice {
    pub(super) codes: BTreeSet<String>,
    /// The default is `other`, words for every code that is not named.
    pub(super) catch_all: bool,
}

impl Choice {
    pub(super) fn has_words_for(&self, code: &str) -> bool {
        self.catch_all || self.codes.contains(code)
    }
}

impl Asks {
    /// Whether the values given are all that is asked for, each of the kind that is asked for.
    pub(super) fn met_by(&self, key: &str, values: &[(&str, Value<'_>)]) -> Result<(), ReplyTrouble> {
        for (name, ask) in &self.0 {
            let names = || (key.to_string(), name.clone());
            let Some((_, given)) = values.iter().find(|(given, _)| given == name) else {
                let (key, value) = names();
                return Err(ReplyTrouble::MissingValue { key, value });
            };
            match given {
                Value::Text(_) if ask.counted => {
                    let (key, value) = names();
                    return Err(ReplyTrouble::NotACount { key, value });
                }
                Value::Text(code) if ask.choices.iter().any(|choice| !choice.has_words_for(code)) => {
                    let (key, value) = names();
                    return Err(ReplyTrouble::MissingCode { key, value, code: code.to_string() });
                }
                Value::Count(_) if !ask.choices.is_empty() => {
                    let (key, value) = names();
                    return Err(ReplyTrouble::NotACode { key, value });
                }
                Value::Text(_) | Value::Count(_) => {}
            }
        }
        Ok(())
    }
}

/// What every wording of every message asks for, and what is wrong with them.
pub(super) fn of_resource(resource: &FluentResource) -> (BTreeMap<String, BTreeMap<Length, Asks>>, Vec<ReplyTrouble>) {
    let mut all = Entries::default();
    for entry in resource.entries() {
        match entry {
            Entry::Message(message) => {
                all.messages.insert(message.id.name, message);
            }
            Entry::Term(term) => {
                all.terms.insert(term.id.name, term);
            }
            _ => {}
        }
    }
    let (mut asks, mut troubles) = (BTreeMap::new(), Vec::new());
    for entry in resource.entries() {
        match entry {
            Entry::Message(message) => {
                let key = message.id.name;
                let mut lengths = BTreeMap::new();
                match &message.value {
                    Some(value) => {
                        lengths.insert(Length::Long, all.read(key, value, &mut troubles));
                    }
                    None => troubles.push(ReplyTrouble::NoText { key: key.into() }),
                }
                for attribute in &message.attributes {
                    let name = attribute.id.name;
                    match Length::of_attribute(name).filter(|length| !lengths.contains_key(length)) {
                        Some(length) => {
                            lengths.insert(length, all.read(key, &attribute.value, &mut troubles));
                        }
                        None => {
                            let (key, attribute) = (key.into(), name.into());
                            troubles.push(ReplyTrouble::UnknownAttribute { key, attribute });
                        }
                    }
                }
                asks.insert(key.to_string(), lengths);
            }
            Entry::Term(term) => {
                let key = format!("-{}", term.id.name);
                for pattern in [&term.value].into_iter().chain(term.attributes.iter().map(|a| &a.value)) {
                    for value in all.read(&key, pattern, &mut troubles).0.into_keys() {
                        // Fluent leaves the name of a value it lacks in a term's text, and tells nobody.
                        troubles.push(ReplyTrouble::ValueInTerm { key: key.clone(), value });
                    }
                }
            }
            _ => {}
        }
    }
    (asks, troubles)
}

#[derive(Default)]
struct Entries<'s> {
    messages: BTreeMap<&'s str, &'s Message<&'s str>>,
    terms: BTreeMap<&'s str, &'s Term<&'s str>>,
}

/// One walk through a wording and everything it refers to.
struct Walk<'s, 't> {
    key: &'t str,
    /// The patterns being read, the outermost first.
    inside: Vec<&'s Pattern<&'s str>>,
    asks: Asks,
    troubles: &'t mut Vec<ReplyTrouble>,
}

impl<'s> Entries<'s> {
    fn read(&self, key: &str, pattern: &'s Pattern<&'s str>, troubles: &mut Vec<ReplyTrouble>) -> Asks {
        let mut walk = Walk { key, inside: Vec::new(), asks: Asks::default(), troubles };
        self.pattern(pattern, &mut walk);
        for (name, ask) in &walk.asks.0 {
            if ask.counted && !ask.choices.is_empty() {
                walk.troubles.push(ReplyTrouble::Mixed { key: key.into(), value: name.clone() });
            }
        }
        walk.asks
    }

    fn pattern(&self, pattern: &'s Pattern<&'s str>, walk: &mut Walk<'s, '_>) {
        if walk.inside.iter().any(|outer| std::ptr::eq(*outer, pattern)) {
            if std::ptr::eq(walk.inside[0], pattern) {
                walk.troubles.push(ReplyTrouble::Circular { key: walk.key.into() });
            }
            return;
        }
        walk.inside.push(pattern);
        self.elements(pattern, walk);
        walk.inside.pop();
    }

    fn elements(&self, pattern: &'s Pattern<&'s str>, walk: &mut Walk<'s, '_>) {
        for element in &pattern.elements {
            if let PatternElement::Placeable { expression } = element {
                self.expression(expression, walk);
            }
        }
    }

    fn expression(&self, expression: &'s Expression<&'s str>, walk: &mut Walk<'s, '_>) {
        match expression {
            Expression::Inline(inline) => self.inline(inline, walk),
            Expression::Select { selector, variants } => {
                self.inline(selector, walk);
                if let InlineExpression::VariableReference { id } = selector {
                    walk.asks.0.entry(id.name.into()).or_default().choose(variants);
                }
                for variant in variants {
                    self.elements(&variant.value, walk);
                }
            }
        }
    }

    fn inline(&self, inline: &'s InlineExpression<&'s str>, walk: &mut Walk<'s, '_>) {
        match inline {
            InlineExpression::StringLiteral { .. } | InlineExpression::NumberLiteral { .. } => {}
            InlineExpression::VariableReference { id } => {
                walk.asks.0.entry(id.name.into()).or_default();
            }
            InlineExpression::Placeable { expression } => self.expression(expression, walk),
            InlineExpression::FunctionReference { id, .. } => {
                walk.own(ReplyTrouble::Function { key: walk.key.into(), function: id.name.into() });
            }
            InlineExpression::MessageReference { id, attribute } => {
                let message = self.messages.get(id.name);
                let target = message.and_then(|message| match attribute {
                    None => message.value.as_ref(),
                    Some(name) => message.attributes.iter().find(|a| a.id == *name).map(|a| &a.value),
                });
                self.follow(target, "", id.name, attribute.as_ref().map(|a| a.name), walk);
            }
            InlineExpression::TermReference { id, attribute, .. } => {
                let term = self.terms.get(id.name);
                let target = term.and_then(|term| match attribute {
                    None => Some(&term.value),
                    Some(name) => term.attributes.iter().find(|a| a.id == *name).map(|a| &a.value),
                });
                self.follow(target, "-", id.name, attribute.as_ref().map(|a| a.name), walk);
            }
        }
    }

    fn follow(
        &self,
        target: Option<&'s Pattern<&'s str>>,
        sigil: &str,
        name: &str,
        attribute: Option<&str>,
        walk: &mut Walk<'s, '_>,
    ) {
        match target {
            Some(pattern) => self.pattern(pattern, walk),
            None => {
                let attribute = attribute.map(|attribute| format!(".{attribute}")).unwrap_or_default();
                let reference = format!("{sigil}{name}{attribute}");
                walk.own(ReplyTrouble::UnknownReference { key: walk.key.into(), reference });
            }
        }
    }
}

impl Walk<'_, '_> {
    /// A trouble of this wording itself; what is wrong with another that it refers to is told there.
    fn own(&mut self, trouble: ReplyTrouble) {
        if self.inside.len() == 1 {
            self.troubles.push(trouble);
        }
    }
}

impl Ask {
    /// Notes a choice: by number when its keys are numbers or plural categories, by code when any is another word.
    /// Codes named like plural categories only are therefore no good as codes.
    fn choose(&mut self, variants: &[Variant<&str>]) {
        let mut codes = BTreeSet::new();
        let (mut counted, mut catch_all, mut other_words) = (false, false, false);
        for variant in variants {
            match variant.key {
                VariantKey::NumberLiteral { .. } => counted = true,
                VariantKey::Identifier { name: "other" } if variant.default => catch_all = true,
                VariantKey::Identifier { name } => {
                    other_words |= !PLURALS.contains(&name);
                    codes.insert(name.to_string());
                }
            }
        }
        if other_words {
            self.choices.push(Choice { codes, catch_all });
        } else {
            counted |= !codes.is_empty();
        }
        self.counted |= counted;
    }
}
