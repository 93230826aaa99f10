//! The talk as screens of a menu session: a digit where a menu is shown, an answer where a question is, 0 to go back. What
//! is keyed becomes a step of the same talk, so that a grower may begin here and go on by short messages.

use chrono::{DateTime, TimeDelta, Utc};

use super::menu::{Item, Menu, UssdScreen, Waits};
use super::say::Say;
use super::state::{Asked, Channel, Talk};
use super::step::step_by;
use super::told::ask_or_answer;
use super::turning::{Heard, SHEET_OLD_DAYS, Step, Turning};
use super::world::World;
use crate::language::{Command, Field, Language};
use crate::message::{Reading, Span, read};

/// Languages on one screen; with the lines for more and back they make six.
const LANGUAGES_A_SCREEN: usize = 4;

/// A step with what becomes of the session.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct UssdStep {
    pub step: Step,
    /// What the screen waits for; the session ends where it waits for nothing.
    pub waits: Option<Waits>,
    /// The screen of before is shown again as it was.
    pub resumed: Option<UssdScreen>,
    /// What also goes out as a short message.
    pub by_sms: Vec<Say>,
}

/// Takes what was keyed into a talk; nothing was keyed on dialling.
pub fn step_ussd(world: &World, talk: &Talk, keyed: &str, now: DateTime<Utc>) -> UssdStep {
    let keyed = keyed.trim();
    let waits = talk.ussd.as_ref().map(|screen| screen.waits);
    let session = Session { world, talk: Talk { ussd: None, ..talk.clone() }, now };
    if talk.stopped {
        let starts = waits == Some(Waits::Start) && keyed == "1";
        return if starts { session.start() } else { session.stopped() };
    }
    if keyed.is_empty() {
        return match &talk.ussd {
            Some(screen) => UssdStep {
                step: Step { talk: talk.clone(), ..Step::default() },
                waits,
                resumed: Some(screen.clone()),
                ..UssdStep::default()
            },
            None => session.dialled(),
        };
    }
    match (waits, keyed) {
        (Some(Waits::Answer), "0") => session.question_before(),
        (Some(Waits::Choice(menu)), _) if keyed.len() == 1 && keyed.bytes().all(|key| key.is_ascii_digit()) => {
            session.choose(menu, usize::from(keyed.as_bytes()[0] - b'0'))
        }
        (Some(Waits::Detail), "0") => session.menu(Menu::Answered, Vec::new()),
        (Some(_), "0") => session.home(),
        (Some(Waits::Sure), "1") => session.word(Command::Yes),
        (Some(Waits::Sure), "2") => session.word(Command::No),
        (Some(Waits::More), "1") => session.word(Command::More),
        _ => session.say(keyed),
    }
}

struct Session<'w> {
    world: &'w World,
    talk: Talk,
    now: DateTime<Utc>,
}

impl Session<'_> {
    /// A question that waits is asked again, from whichever channel it came.
    fn dialled(self) -> UssdStep {
        match self.talk.asked {
            Some(Asked::Field { field } | Asked::Gallon { field, .. } | Asked::Unusual { field }) => self.question(field),
            _ => self.home(),
        }
    }

    fn home(mut self) -> UssdStep {
        self.talk.asked = None;
        self.menu(Menu::Home, Vec::new())
    }

    fn menu(self, menu: Menu, mut says: Vec<Say>) -> UssdStep {
        // A hint stands in for the head, so that a menu stays within its lines.
        if says.is_empty() {
            says.push(Say::Menu(menu));
        }
        says.extend((1..).zip(menu.items()).map(|(key, item)| Say::Choice(key, *item)));
        if let Menu::Languages { first } = menu {
            let names = self.world.languages.iter().skip(first).map(Language::plain_name);
            says.extend((1..).zip(names.take(LANGUAGES_A_SCREEN)).map(|(key, name)| Say::ChoiceOfLanguage(key, name)));
            if self.world.languages.iter().count() > first + LANGUAGES_A_SCREEN {
                says.push(Say::Choice(LANGUAGES_A_SCREEN as u8 + 1, Item::More));
            }
        }
        if menu != Menu::Home {
            says.push(Say::Choice(0, Item::Back));
        }
        self.shown(says, Waits::Choice(menu))
    }

    fn shown(self, says: Vec<Say>, waits: Waits) -> UssdStep {
        let step = Step { talk: self.talk, says, ..Step::default() };
        UssdStep { step, waits: Some(waits), ..UssdStep::default() }
    }

    fn stopped(self) -> UssdStep {
        self.shown(vec![Say::Menu(Menu::Stopped), Say::Choice(1, Item::Start)], Waits::Start)
    }

    fn start(mut self) -> UssdStep {
        self.talk.stopped = false;
        self.talk.misread = 0;
        self.home()
    }

    fn choose(mut self, menu: Menu, key: usize) -> UssdStep {
        if key == 0 {
            return match menu {
                Menu::Languages { .. } => self.menu(Menu::Other, Vec::new()),
                Menu::Other | Menu::Home | Menu::Answered | Menu::Stopped => self.home(),
            };
        }
        if let Menu::Languages { first } = menu {
            if key == LANGUAGES_A_SCREEN + 1 && self.world.languages.at(first + LANGUAGES_A_SCREEN).is_some() {
                return self.menu(Menu::Languages { first: first + LANGUAGES_A_SCREEN }, Vec::new());
            }
            let chosen = self.world.languages.at(first + key - 1).filter(|_| key <= LANGUAGES_A_SCREEN);
            return match chosen.map(|language| language.code.clone()) {
                Some(code) => {
                    self.talk.language = Some(code);
                    self.home()
                }
                None => self.menu(menu, vec![Say::NoSuchChoice]),
            };
        }
        match menu.items().get(key - 1) {
            Some(Item::Answer) => self.answer(),
            Some(Item::New) => self.word(Command::New),
            Some(Item::Setup) => self.word(Command::Setup),
            Some(Item::Care) => self.word(Command::Care),
            Some(Item::Person) => self.word(Command::Person),
            Some(Item::Stop) => self.word(Command::Stop),
            Some(Item::More) => self.detail(Command::More),
            Some(Item::Change) => self.detail(Command::Change),
            Some(Item::Cost) => self.detail(Command::Cost),
            Some(Item::Other) => self.menu(Menu::Other, Vec::new()),
            Some(Item::Language) => self.menu(Menu::Languages { first: 0 }, Vec::new()),
            _ => self.menu(menu, vec![Say::NoSuchChoice]),
        }
    }

    /// The answer, or the first question that stands before it; an old sheet is asked about first.
    fn answer(mut self) -> UssdStep {
        let is_old = self.talk.last_at.is_some_and(|last| self.now - last > TimeDelta::days(SHEET_OLD_DAYS));
        if is_old && !self.talk.known.is_empty() {
            self.talk.asked = Some(Asked::StillSame { facts: Vec::new(), command: None });
            let talk = Talk { last_at: Some(self.now), ..self.talk };
            return after(Step { talk, says: vec![Say::StillSame], ..Step::default() });
        }
        self.talk.last_at = Some(self.now);
        let heard = Heard { text: "", reading: &Reading::default() };
        let mut turn = Turning::new(self.world, self.talk, heard, Channel::Ussd.into(), self.now);
        ask_or_answer(&mut turn);
        after(turn.done())
    }

    fn question(mut self, field: Field) -> UssdStep {
        self.talk.asked = Some(Asked::Field { field });
        after(Step { talk: self.talk, says: vec![Say::Ask { field, beside_answer: false }], ..Step::default() })
    }

    /// Back from a question: the one before it, with its answer taken back, or the first menu.
    fn question_before(mut self) -> UssdStep {
        const ORDER: [Field; 4] = [Field::Lift, Field::Panel, Field::Pipe, Field::Garden];
        let asked = self.talk.asked.as_ref().and_then(Asked::field);
        let at = asked.and_then(|field| ORDER.iter().position(|other| *other == field));
        match at.and_then(|at| at.checked_sub(1)).map(|before| ORDER[before]) {
            Some(before) => {
                self.talk.known.untell(before);
                self.question(before)
            }
            None => self.home(),
        }
    }

    /// More of an answer: back from it leads to the rest.
    fn detail(self, command: Command) -> UssdStep {
        let mut screen = self.word(command);
        if matches!(screen.waits, Some(Waits::Back | Waits::More)) {
            screen.waits = Some(Waits::Detail);
            // The lines behind it have that too.
            screen.step.says.retain(|say| !matches!(say, Say::Choice(_, Item::More)));
        }
        screen
    }

    /// A digit that stands for a word.
    fn word(self, command: Command) -> UssdStep {
        let at = Span { start: 0, end: 0 };
        let reading = Reading { commands: vec![(command, at)], ..Reading::default() };
        after(step_by(self.world, &self.talk, Heard { text: "", reading: &reading }, Channel::Ussd.into(), self.now))
    }

    /// What was keyed as a message.
    fn say(self, text: &str) -> UssdStep {
        let preferred = self.talk.language.as_deref().unwrap_or(&self.world.home_language);
        let asked = self.talk.asked.as_ref().and_then(Asked::field);
        let reading = read(text, &self.world.languages, preferred, asked);
        after(step_by(self.world, &self.talk, Heard { text, reading: &reading }, Channel::Ussd.into(), self.now))
    }
}

/// An answer as a screen, with what else there is to it. A screen is gone when it closes, and holds half of what a message
/// does: the sheet, whose climate it is, where that is not too far off to be trusted, and a set to buy where it is, are
/// in the message alone; where the screen is full the lines to go on by come after it.
fn answered(mut step: Step) -> UssdStep {
    let by_sms = step.says.clone();
    let is_test = step.says.iter().any(|say| matches!(say, Say::Test(_)));
    let is_rough = step.says.iter().any(|say| matches!(say, Say::Climate { source, .. } if source.rough));
    step.says.retain(|say| match say {
        Say::NextWord(_) | Say::Told(_) => false,
        Say::Climate { source, .. } => source.rough && !is_test,
        Say::Proposal(_) => !is_rough,
        _ => true,
    });
    step.says.push(Say::AlsoBySms);
    let is_full = is_test || step.says.iter().any(|say| matches!(say, Say::Climate { .. } | Say::Proposal(_)));
    if !is_full {
        step.says.extend((1..).zip(Menu::Answered.items()).map(|(key, item)| Say::Choice(key, *item)));
    }
    step.says.push(Say::Choice(0, Item::Back));
    let waits = if is_full { Waits::Detail } else { Waits::Choice(Menu::Answered) };
    UssdStep { step, waits: Some(waits), by_sms, ..UssdStep::default() }
}

/// A step as a screen: what it waits for, the lines to go on by, and whether it also goes out as a short message.
fn after(mut step: Step) -> UssdStep {
    let is_answer = step.says.iter().any(|say| matches!(say, Say::Answer { .. } | Say::NoWater { .. }));
    if step.talk.stopped || step.says.iter().any(|say| matches!(say, Say::HandedOver | Say::Forgotten)) {
        step.says.retain(|say| !matches!(say, Say::NextWord(_)));
        return UssdStep { step, ..UssdStep::default() };
    }
    if is_answer {
        return answered(step);
    }
    let is_more = |say: &Say| {
        matches!(
            say,
            Say::PoorDay { .. }
                | Say::Fix { .. }
                | Say::NothingToChange
                | Say::NoChangeHelps
                | Say::Cost(_)
                | Say::Test(_)
                | Say::GoodHours { .. }
        )
    };
    if step.says.iter().any(is_more) {
        // The answer said so.
        step.says.retain(|say| !matches!(say, Say::Climate { .. }));
    }
    let goes_on = step.says.iter().any(|say| matches!(say, Say::NextWord(Command::More)));
    step.says.retain(|say| !matches!(say, Say::NextWord(_)));
    let asks = step.says.iter().any(|say| matches!(say, Say::Ask { .. } | Say::Refused(_) | Say::About(_)));
    let waits = match &step.talk.asked {
        _ if goes_on => Waits::More,
        Some(Asked::Field { .. } | Asked::Gallon { .. }) if asks => Waits::Answer,
        None | Some(Asked::Field { .. } | Asked::Gallon { .. }) => Waits::Back,
        Some(_) => Waits::Sure,
    };
    match waits {
        Waits::Sure => step.says.extend([Say::Choice(1, Item::Yes), Say::Choice(2, Item::No)]),
        Waits::More => step.says.push(Say::Choice(1, Item::More)),
        _ => {}
    }
    step.says.push(Say::Choice(0, Item::Back));
    UssdStep { step, waits: Some(waits), ..UssdStep::default() }
}
