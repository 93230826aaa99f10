//! Which sayings a talk puts together.

use super::super::fit::Room;
use super::values::{
    LONG_WORD, answers, assumed, bores, burns, cautions, changed, climates, costs, doubts, enough, fixes, hours, joins,
    no_water, only_start_read, over_driven, own, passed_over, proposals, refusals, told, took_word, wires,
};
use super::{BOTH, MESSAGE};
use crate::language::{Command, DangerKind, DangerLine, FaultTrees, Field, Language, Then};
use crate::sizing::set::guess::Guess;
use crate::talk::{Item, Menu, Say, Topic, lines_for};

/// Sayings that make one reply: slot after slot, each with all that may stand there.
pub struct Bundle {
    /// For whoever mends it.
    pub name: String,
    pub slots: Vec<Vec<Say>>,
    /// What it has to fit.
    pub rooms: &'static [Room],
}

/// Every reply; how faults are looked for is the language's own.
pub fn bundles(language: &Language) -> Vec<Bundle> {
    let mut all = Bundles(Vec::new());
    all.advices();
    all.about_advices();
    all.questions();
    all.guides();
    all.troubles();
    all.menus();
    all.season();
    all.compared();
    all.faults(&language.faults);
    all.dangers();
    all.topics();
    for say in [Say::Stopped, Say::HandedOver, Say::StillHandedOver, Say::Forgotten, Say::Busy, Say::Started] {
        all.add(super::saying_name(&say), BOTH, vec![vec![say]]);
    }
    all.0
}

pub struct Bundles(Vec<Bundle>);

impl Bundles {
    pub fn add(&mut self, name: &str, rooms: &'static [Room], slots: Vec<Vec<Say>>) {
        self.0.push(Bundle { name: name.to_owned(), slots, rooms });
    }

    /// A message, and the same as a screen with these lines to go on by.
    pub fn add_both(&mut self, name: &str, slots: Vec<Vec<Say>>, items: &[(u8, Item)]) {
        let mut screen = slots.clone();
        screen.extend(items.iter().map(|(key, item)| vec![Say::Choice(*key, *item)]));
        self.add(name, &[MESSAGE], slots);
        self.add(name, &[Room::Screen], screen);
    }

    fn advices(&mut self) {
        let over = over_driven();
        // What can burn stands in the place of what runs dry; panels of another voltage are named where there is room.
        let dry = vec![Say::WellRunsDry];
        let well = [dry.clone(), burns()].concat();
        let mismatch = vec![Say::Mismatch { panels_v: 199.0, pump_v: 99.0 }];
        let sun_hours = vec![Say::Hours { hours: 9.5, garden_m2: 99_000.0, bed_minutes: 99.9, bed_cans: 99.0 }];
        // A pump that stands too high has no use for other warnings.
        let high = vec![Say::SuctionTooHigh { greatest_m: 5.5 }];
        let asks = Guess::ALL.map(Say::AskGuess);
        let more = [Say::NextWord(Command::More), Say::Ask { field: Field::Garden, beside_answer: true }];
        let on: Vec<Say> = more.into_iter().chain(asks).collect();
        let around = |middle: Vec<Vec<Say>>| -> Vec<Vec<Say>> {
            let before = vec![vec![took_word()], vec![only_start_read()], vec![told()]];
            let after = vec![vec![assumed()], climates(), cautions(), on.clone(), vec![passed_over()]];
            [before, middle, after].concat()
        };
        self.add("answer", &[MESSAGE], around(vec![answers(), over.clone(), mismatch, well.clone(), sun_hours, own()]));
        let unusual: Vec<Say> = doubts().into_iter().map(Say::Unusual).collect();
        self.add(
            "unusual",
            &[MESSAGE],
            [around(vec![answers(), over.clone(), well.clone(), own()]), vec![unusual]].concat(),
        );
        self.add("pump-too-high", &[MESSAGE], around(vec![answers(), high.clone(), own()]));
        self.add("no-water", &[MESSAGE], around(vec![no_water(), well.clone(), own()]));
        self.add("proposal", &[MESSAGE], around(vec![enough(), dry.clone(), proposals()]));
        self.add_both("no-set", vec![vec![took_word()], vec![Say::NoSet], vec![passed_over()]], &[BACK]);

        // A screen leaves some of it to the message that goes out beside it.
        let screen = |middle: Vec<Vec<Say>>, keys: &[(u8, Item)]| {
            let keys = keys.iter().map(|(key, item)| vec![Say::Choice(*key, *item)]).collect();
            let around = [middle, vec![vec![assumed()], cautions(), vec![Say::AlsoBySms], vec![passed_over()]], keys];
            around.concat()
        };
        let keys = [(1, Item::More), (2, Item::Change), (3, Item::Cost), BACK];
        let rough = vec![climates().pop()].into_iter().flatten().collect::<Vec<_>>();
        for (name, middle, keys) in [
            ("answer", vec![answers(), over.clone(), well.clone(), own()], &keys[..]),
            ("pump-too-high", vec![answers(), high, own()], &keys[..]),
            ("no-water", vec![no_water(), well.clone(), own()], &keys),
            ("rough-answer", vec![answers(), over, well.clone(), rough.clone()], &[BACK]),
            ("rough-no-water", vec![no_water(), well.clone(), rough], &[BACK]),
            ("proposal", vec![enough(), dry, proposals()], &[BACK]),
        ] {
            self.add(name, &[Room::Screen], screen(middle, keys));
        }
    }

    /// What the words about an advice give: each with whose climate it is, and a caution.
    fn about_advices(&mut self) {
        let poor = Say::PoorDay { poor_day_m3: 999.0, pumping_hours: 9.5 };
        let noon = Say::Noon { flow_l_min: 999.0, pipe_loss_m: 99.5, bore_mm: 199.5 };
        let on = |word| vec![Say::NextWord(word)];
        let with_caution = |says: Vec<Vec<Say>>, word: Command| [says, vec![cautions(), on(word)]].concat();
        let more = with_caution(vec![vec![poor], vec![noon], burns(), wires(), joins()], Command::Help);
        self.add_on_answer("more", more);
        let fixes = (1..=3).map(fixes).collect();
        self.add_on_answer("change", with_caution(fixes, Command::Cost));
        let none = vec![vec![Say::NothingToChange, Say::NoChangeHelps]];
        self.add_on_answer("no-change", with_caution(none, Command::Cost));
        let parts = Say::NoPrice(["panel", "pump", "pipe", "wire"].map(|part| format!("{part} 99999.5")).to_vec());
        self.add_on_answer("cost", with_caution(vec![costs(), vec![parts]], Command::Change));
    }

    /// As a message with whose climate it is; a screen said that with the answer.
    pub fn add_on_answer(&mut self, name: &str, slots: Vec<Vec<Say>>) {
        self.add(name, &[MESSAGE], [slots.clone(), vec![own(), climates()]].concat());
        self.add(name, &[Room::Screen], [slots, vec![own(), back()]].concat());
    }

    fn questions(&mut self) {
        for field in Field::ALL {
            let ask = vec![Say::Ask { field, beside_answer: false }];
            let name = format!("ask-{}", field.name());
            let sheet = vec![
                vec![took_word()],
                vec![only_start_read()],
                vec![told()],
                climates(),
                ask.clone(),
                vec![passed_over()],
            ];
            self.add_both(&name, sheet, &[BACK]);
            self.add_both(&name, vec![vec![Say::NotUnderstood], ask.clone(), vec![passed_over()]], &[BACK]);
            self.add_both(&name, vec![vec![Say::NewSheet], ask], &[BACK]);
            let lines = lines_for(field).iter().map(|line| Say::Safety(*line)).collect::<Vec<_>>();
            let about = |about: Vec<Say>| vec![vec![took_word()], vec![told()], about, lines.clone()];
            self.add_both(&format!("about-{}", field.name()), about(vec![Say::About(field)]), &[BACK]);
            if matches!(field, Field::Pipe | Field::Bore) {
                self.add_both("bore", [about(bores()), vec![own()]].concat(), &[BACK]);
            }
            if field == Field::Wire {
                let wires = vec![vec![took_word()], vec![told()], burns(), wires(), joins(), lines.clone()];
                self.add_both("wire", [wires, vec![own()]].concat(), &[BACK]);
            }
        }
    }

    fn compared(&mut self) {
        let changed = changed();
        let over = over_driven();
        let sure = [(1, Item::Yes), (2, Item::No), BACK];
        self.add("compared", &[MESSAGE], vec![changed.clone(), burns(), over, cautions()]);
        let keys = sure.map(|(key, item)| vec![Say::Choice(key, item)]);
        self.add("compared", &[Room::Screen], [vec![changed, burns(), cautions()], keys.to_vec()].concat());
        self.add_both("sheet-kept", vec![vec![Say::SheetKept]], &[BACK]);
    }

    /// Each step with what the engine knows before the first one, each ending with what comes after it.
    fn faults(&mut self, trees: &FaultTrees) {
        let knows = || [over_driven(), hours()].concat();
        let noon = || vec![Say::Noon { flow_l_min: 999.0, pipe_loss_m: 99.5, bore_mm: 199.5 }];
        for (name, tree) in trees.iter() {
            for step in tree.steps.keys() {
                let ask = vec![Say::FaultStep { tree: name.to_owned(), step: step.clone() }];
                let before = if *step == tree.first { vec![knows()] } else { Vec::new() };
                self.add(&format!("{name}-{step}"), &[MESSAGE], [before, vec![ask.clone()]].concat());
                let keys = [(1, Item::Yes), (2, Item::No), BACK].map(|(key, item)| vec![Say::Choice(key, item)]);
                self.add(&format!("{name}-{step}"), &[Room::Screen], [vec![ask], keys.to_vec()].concat());
            }
            for (end, ending) in &tree.ends {
                let said = vec![Say::FaultEnd { tree: name.to_owned(), end: end.clone() }];
                let after = match ending.then {
                    Then::Solved | Then::Part => Vec::new(),
                    Then::Person => vec![vec![Say::HandedOver]],
                    Then::Test => vec![vec![Say::Guide { topic: Topic::Test, step: "bucket" }]],
                    Then::StartsAt | Then::OverVoltage => vec![knows()],
                    Then::ExpectedFlow => vec![noon()],
                };
                self.add(&format!("{name}-{end}"), &[MESSAGE], [vec![said], after].concat());
            }
        }
    }

    /// The answers' own length is held when a folder is read.
    fn topics(&mut self) {
        let topic = |part| Say::Topic { topic: "alone".to_owned(), part };
        self.add("topic", &[MESSAGE], vec![vec![topic(0), topic(1)]]);
        let which = Say::WhichTopic { first: "panel_volts".to_owned(), second: "mixed_panels".to_owned() };
        self.add("which-topic", &[MESSAGE], vec![vec![which]]);
    }

    /// Whatever the line, the number is among the longest.
    fn dangers(&mut self) {
        let emergency = || Some("+44 7700 900000".to_owned());
        for kind in DangerKind::ALL {
            let say = |line| Say::Danger { kind, line, also: Some(DangerKind::NotBreathing), emergency: emergency() };
            self.add(kind.name(), BOTH, vec![DangerLine::ALL.map(say).to_vec()]);
        }
    }

    fn guides(&mut self) {
        for topic in [Topic::Setup, Topic::Care, Topic::Help, Topic::Test] {
            for (step, lines) in topic.steps() {
                let lines = lines.iter().map(|line| Say::Safety(*line)).collect();
                let slots = vec![vec![Say::Guide { topic, step }], lines, vec![Say::NextWord(Command::More)]];
                self.add_both(&format!("{topic:?} {step}"), slots, &[(1, Item::More), BACK]);
            }
        }
        self.add_both("no-more", vec![vec![Say::NoMore]], &[BACK]);
    }

    fn troubles(&mut self) {
        let sure = [(1, Item::Yes), (2, Item::No), BACK];
        let refused: Vec<Say> = refusals().into_iter().map(Say::Refused).collect();
        self.add("refused", &[Room::Screen], vec![vec![took_word()], refused.clone(), vec![told()], back()]);
        self.add("refused-twice", &[MESSAGE], vec![vec![took_word()], refused.clone(), refused, vec![told()]]);
        let doubts = doubts().into_iter().map(Say::IsItRight).collect();
        self.add_both("is-it-right", vec![vec![took_word()], vec![only_start_read()], doubts], &sure);
        let word = || LONG_WORD.to_owned();
        for command in Command::ALL {
            self.add("only-in-a-talk", &[MESSAGE], vec![vec![Say::OnlyInTalk(command)]]);
        }
        self.add_both("did-you-mean", vec![vec![Say::DidYouMean { word: word(), meant: word() }]], &sure);
        let unknown = Say::PlaceUnknown { name: word(), known: vec![word(); 9] };
        self.add_both("place-unknown", vec![vec![took_word()], vec![unknown]], &[BACK]);
        self.add_both("spot-refused", vec![vec![took_word()], vec![Say::SpotRefused]], &[BACK]);
        self.add_both("still-same", vec![vec![Say::StillSame]], &sure);
        self.add_both("forget", vec![vec![Say::ForgetSure]], &sure);
        self.add_both("kept", vec![vec![Say::Kept]], &[BACK]);
        self.add_both("nothing-understood", vec![vec![Say::NothingUnderstood]], &[BACK]);
    }

    fn menus(&mut self) {
        let named = [
            (
                "menu-home",
                Menu::Home,
                vec![(1, Item::Answer), (2, Item::New), (3, Item::Setup), (4, Item::Care), (5, Item::Other)],
            ),
            ("menu-other", Menu::Other, vec![(1, Item::Language), (2, Item::Person), (3, Item::Stop), BACK]),
            ("menu-answered", Menu::Answered, vec![(1, Item::More), (2, Item::Change), (3, Item::Cost), BACK]),
            ("menu-stopped", Menu::Stopped, vec![(1, Item::Start)]),
        ];
        for (name, menu, items) in named {
            let choices = items.into_iter().map(|(key, item)| vec![Say::Choice(key, item)]);
            let head = vec![Say::Menu(menu), Say::NoSuchChoice];
            self.add(name, &[Room::Screen], [head].into_iter().chain(choices).collect());
        }
        let languages = (1..=4).map(|key| vec![Say::ChoiceOfLanguage(key, LONG_WORD.to_owned())]);
        let head = vec![Say::Menu(Menu::Languages { first: 0 }), Say::NoSuchChoice];
        let ends = [vec![Say::Choice(5, Item::More)], back()];
        self.add("menu-languages", &[Room::Screen], [head].into_iter().chain(languages).chain(ends).collect());
    }
}

pub const BACK: (u8, Item) = (0, Item::Back);

pub fn back() -> Vec<Say> {
    vec![Say::Choice(0, Item::Back)]
}
