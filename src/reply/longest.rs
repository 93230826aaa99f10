//! Every saying as a talk puts them together, with the longest values it can have: what a language must be able to say in
//! the room that a phone gives.

use super::fit::Room;
use super::render::{RenderTrouble, try_render};
use crate::language::{Command, Field, Language};
use crate::message::limits::LIMITS;
use crate::message::{Span, Trouble, TroubleCode};
use crate::sizing::verdict::Verdict;
use crate::talk::{Item, Menu, Safety, Say, Topic, lines_for};
use crate::units::{Quantity, Unit};

/// A number as long as any that a reply writes.
const LONG: f64 = 99_999.5;

/// A word as long as any that a reply says back.
const LONG_WORD: &str = "wwwwwwwwwwwwwwwwwwwwwwww";

/// What a language cannot say in the room given.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[error("{said}: {trouble}; shorten the tiny wordings")]
pub struct TooLong {
    pub said: String,
    pub trouble: RenderTrouble,
}

/// Every reply that does not fit two short messages or one screen.
pub fn too_long(language: &Language) -> Vec<TooLong> {
    let mut found = Vec::new();
    for (said, says) in longest() {
        for room in [Room::Parts(1), Room::Screen] {
            if let Err(trouble) = try_render(language, &says, room) {
                found.push(TooLong { said: said.clone(), trouble });
            }
        }
    }
    found
}

/// Each of them with a name for whoever mends it.
pub fn longest() -> Vec<(String, Vec<Say>)> {
    let mut all = Vec::new();
    let mut add = |said: String, says: Vec<Say>| all.push((said, says));
    for line in Safety::ALL {
        for says in advices() {
            add(format!("advice {}", line.code()), [says, vec![Say::Safety(line)]].concat());
        }
        for wire in wires() {
            let poor = Say::PoorDay { poor_day_m3: 999.0, pumping_hours: 9.5 };
            add("advice-more".to_owned(), vec![poor, wire, Say::Safety(line)]);
        }
    }
    for says in advices() {
        add("advice high-voltage".to_owned(), [says, vec![Say::HighVoltage]].concat());
    }
    for field in Field::ALL {
        let asked = Say::Ask { field, beside_answer: false };
        add(format!("ask {}", field.name()), vec![Say::NotUnderstood, asked.clone(), Say::Choice(0, Item::Back)]);
        add(format!("ask {}", field.name()), vec![Say::NewSheet, asked, Say::Choice(0, Item::Back)]);
        for line in lines_for(field) {
            let says = vec![Say::About(field), Say::Safety(*line), Say::Choice(0, Item::Back)];
            add(format!("about {}", field.name()), says);
        }
    }
    for wire in wires() {
        add("wire".to_owned(), vec![wire, Say::Safety(Safety::DcBreaker), Say::Choice(0, Item::Back)]);
    }
    for line in lines_for(Field::Pipe) {
        for is_told in [true, false] {
            let bore = Say::Bore { is_told, pipe_m: 1999.5, bore_mm: 199.5, pipe_loss_m: 99.5 };
            add("bore".to_owned(), vec![bore, Say::Safety(*line), Say::Choice(0, Item::Back)]);
        }
    }
    for topic in [Topic::Setup, Topic::Care, Topic::Help] {
        for (step, lines) in topic.steps() {
            let mut says = vec![Say::Guide { topic, step }, Say::Choice(1, Item::More), Say::Choice(0, Item::Back)];
            says.push(Say::NextWord(Command::More));
            if lines.is_empty() {
                add(format!("{topic:?} {step}"), says.clone());
            }
            for line in *lines {
                add(format!("{topic:?} {step}"), [says.clone(), vec![Say::Safety(*line)]].concat());
            }
        }
    }
    for trouble in refusals() {
        add("refused".to_owned(), vec![Say::Refused(trouble), Say::Choice(0, Item::Back)]);
    }
    for trouble in doubts() {
        let sure = [Say::Choice(1, Item::Yes), Say::Choice(2, Item::No), Say::Choice(0, Item::Back)];
        add("is-it-right".to_owned(), [vec![Say::IsItRight(trouble)], sure.to_vec()].concat());
    }
    let word = || LONG_WORD.to_owned();
    add("did-you-mean".to_owned(), vec![Say::DidYouMean { word: word(), meant: word() }]);
    add("place-unknown".to_owned(), vec![Say::PlaceUnknown { name: word(), known: vec![word(); 9] }]);
    add("menu home".to_owned(), menu(Menu::Home, &[Item::Answer, Item::New, Item::Setup, Item::Care, Item::Other]));
    add("menu stopped".to_owned(), menu(Menu::Stopped, &[Item::Start]));
    add("menu other".to_owned(), menu(Menu::Other, &[Item::Language, Item::Person, Item::Stop, Item::Back]));
    for (said, say) in [
        ("nothing-understood", Say::NothingUnderstood),
        ("still-same", Say::StillSame),
        ("no-more", Say::NoMore),
        ("stopped", Say::Stopped),
        ("started", Say::Started),
        ("handed-over", Say::HandedOver),
        ("forget-sure", Say::ForgetSure),
        ("forgotten", Say::Forgotten),
        ("kept", Say::Kept),
        ("busy", Say::Busy),
        ("no-such-choice", Say::NoSuchChoice),
    ] {
        add(said.to_owned(), vec![say, Say::Choice(0, Item::Back)]);
    }
    all
}

fn menu(menu: Menu, items: &[Item]) -> Vec<Say> {
    let choices = (1..).zip(items).map(|(key, item)| Say::Choice(key, *item));
    [Say::Menu(menu)].into_iter().chain(choices).collect()
}

/// Verdicts with everything that may have to be said beside them.
fn advices() -> Vec<Vec<Say>> {
    let verdicts = [None, Some(Verdict::Enough), Some(Verdict::Tight), Some(Verdict::Short)];
    let answers = verdicts.into_iter().flat_map(|verdict| {
        (1..=12).map(move |month| Say::Answer { verdict, water_m3_day: 999.0, area_m2: Some(99_000.0), month })
    });
    let no_need = (1..=12).map(|month| Say::Answer { verdict: None, water_m3_day: 999.0, area_m2: None, month });
    let over = [Some(99), None].map(|panels| Say::OverDriven { panels });
    let answers = answers.chain(no_need).chain([Say::NoWater { lift_m: 99.5 }]);
    answers.flat_map(|answer| over.clone().map(|over| vec![answer.clone(), over, Say::WellRunsDry])).collect()
}

fn wires() -> [Say; 2] {
    [Some(63.0), None].map(|breaker_a| Say::Wire { wire_m: 199.5, size_mm2: 9.5, breaker_a, string_fuse_a: Some(30.0) })
}

fn trouble(field: Option<Field>, code: TroubleCode) -> Trouble {
    Trouble { at: Span { start: 0, end: 0 }, code, field }
}

fn refusals() -> Vec<Trouble> {
    let ranges = LIMITS.iter().map(|limit| {
        let ((low, high), unit) = (limit.possible, limit.unit);
        trouble(limit.field, TroubleCode::OutOfRange { low, high, value: LONG, unit })
    });
    let by_field = Field::ALL.into_iter().flat_map(|field| {
        [
            TroubleCode::WrongUnit { unit: Some(Unit::Watt), wants: Quantity::Length },
            TroubleCode::UnknownUnit,
            TroubleCode::NoNumber,
            TroubleCode::NotWhole { value: LONG },
            TroubleCode::OneNumber,
        ]
        .map(|code| trouble(Some(field), code))
    });
    let others = [
        trouble(Some(Field::Pump), TroubleCode::WhichGallon { gallons_h: LONG }),
        trouble(None, TroubleCode::WhichField { fields: Vec::new(), value: LONG }),
        trouble(None, TroubleCode::TestIncomplete),
    ];
    ranges.chain(by_field).chain(others).collect()
}

fn doubts() -> Vec<Trouble> {
    let unusual = LIMITS.iter().map(|limit| {
        let ((low, high), unit) = (limit.usual, limit.unit);
        trouble(limit.field, TroubleCode::Unusual { low, high, value: LONG, unit })
    });
    let below = trouble(Some(Field::Low), TroubleCode::LowBelowLift { lift_m: 99.55, low_m: 99.45 });
    unusual.chain([below]).collect()
}
