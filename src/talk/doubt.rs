//! An unusual value that was asked about: only a yes, or the value told anew, answers.

use super::say::Say;
use super::state::{Asked, Channel};
use super::told::MISREAD_LIMIT;
use super::turning::{Turning, uses_sheet};
use crate::language::Field;
use crate::message::{FactValue, Trouble, TroubleCode, print, read};

impl Turning<'_> {
    /// Asks again whether an unusual value is right where a message neither says so nor tells the field anew; the second
    /// time a person is told as well. What else it tells is taken. A screen has keys for yes and no.
    pub fn still_in_doubt(&mut self, field: Field, facts: &[FactValue]) -> bool {
        let reading = self.heard.reading;
        let told_anew = facts.iter().any(|fact| fact.field() == Some(field));
        let does_else = reading.commands.iter().any(|(command, _)| !uses_sheet(*command));
        if self.manner.channel != Channel::Sms || told_anew || does_else {
            return false;
        }
        facts.iter().for_each(|fact| self.tell(fact));
        let Some(doubt) = self.doubt_of(field) else { return false };
        self.talk.misread = self.talk.misread.saturating_add(1);
        if self.talk.misread >= MISREAD_LIMIT {
            self.talk.misread = 0;
            self.wants_person = true;
            self.says.push(Say::HandedOver);
        }
        self.says.push(Say::IsItRight(doubt));
        self.talk.asked = Some(Asked::Unusual { field });
        true
    }

    /// The doubt about a field as it is known: what a message with nothing else in it would raise.
    fn doubt_of(&self, field: Field) -> Option<Trouble> {
        let languages = &self.world.languages;
        let code = self.talk.language.as_deref().unwrap_or(&self.world.home_language);
        let told = print(&self.talk.known.facts(), languages.get(code)?);
        let doubts = |trouble: &Trouble| {
            let unusual = matches!(trouble.code, TroubleCode::Unusual { .. } | TroubleCode::LowBelowLift { .. });
            unusual && trouble.field == Some(field)
        };
        read(&told, languages, code, None).troubles.into_iter().find(doubts)
    }
}
