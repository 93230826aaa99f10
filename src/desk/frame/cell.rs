//! One field of a form: what stands in it, and why that was not taken.

use std::collections::BTreeMap;

/// What a form brought, by the names of its fields.
pub type Typed = BTreeMap<String, String>;

#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Cell {
    pub name: String,
    pub label: String,
    /// As it was typed, or as it is stored.
    pub value: String,
    pub problem: Option<String>,
}

impl Cell {
    /// The field with what was typed in it.
    pub fn of(name: impl Into<String>, label: impl Into<String>, typed: &Typed) -> Self {
        let name = name.into();
        let value = text_of(typed, &name).to_owned();
        Self { name, label: label.into(), value, problem: None }
    }

    /// The number in the field; none when it is empty, and a problem where there is something else.
    pub fn number(&mut self) -> Option<f64> {
        let number = self.value.parse::<f64>().ok().filter(|number| number.is_finite());
        if number.is_none() && !self.value.is_empty() {
            self.problem = Some(format!("“{}” is no number; write digits with a point, such as 12.5.", self.value));
        }
        number
    }

    /// The same of a field that must not be empty.
    pub fn needed(&mut self) -> Option<f64> {
        if self.value.is_empty() {
            self.problem = Some("It is empty; write a number.".to_owned());
        }
        self.number()
    }
}

/// What was typed in a field, without the space around it.
pub fn text_of<'t>(typed: &'t Typed, name: &str) -> &'t str {
    typed.get(name).map(|text| text.trim()).unwrap_or_default()
}

/// A sentence begins with a capital letter.
pub fn capital(sentence: &str) -> String {
    let mut letters = sentence.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}
