//! What a step has to say, as values; `reply` words them.

use super::known::Known;
use super::menu::{Item, Menu};
use super::reminder::ReminderKind;
use super::safety_line::Safety;
use super::topic::Topic;
use super::world::PlaceSource;
use crate::language::{Command, DangerKind, DangerLine, Field};
use crate::message::{FactValue, Trouble};
use crate::sizing::advice::changes::Change;
use crate::sizing::advice::cure::Cure;
use crate::sizing::advice::day_plan::DayStances;
use crate::sizing::bucket::judging::Finding;
use crate::sizing::money::costs::Money;
use crate::sizing::set::guess::Guess;
use crate::sizing::set::verdict::Verdict;
use crate::terms::TestSky;
use chrono::NaiveDate;
use rust_decimal::Decimal;

/// Something that was taken for granted.
#[derive(Debug, Clone, PartialEq)]
pub enum Assumption {
    /// A pump with this label.
    Pump {
        label_v: f64,
        flow_l_h: f64,
        head_m: f64,
    },
    PumpVolts(f64),
    BoreMm(f64),
    /// Panels lying flat.
    Flat,
    /// So many panels of so many watts, where only a sum or a size was told.
    Panels {
        count: u32,
        watts: f64,
    },
    Crop(&'static str),
    Watering(&'static str),
    Place(String),
}

/// A whole set to buy.
#[derive(Debug, Clone, PartialEq)]
pub struct ProposedSet {
    pub panel_count: u32,
    pub panel_w: f64,
    pub pump_count: u32,
    pub label_v: f64,
    pub flow_l_h: f64,
    pub bore_mm: f64,
    pub wire_mm2: f64,
    pub breaker_a: Option<f64>,
    pub first_cost: Option<Decimal>,
    pub currency: String,
}

/// What a set comes to, where it brings water at all.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Outcome {
    pub verdict: Option<Verdict>,
    pub water_m3_day: f64,
    pub area_m2: Option<f64>,
}

/// A set as it is and with something changed, side by side.
#[derive(Debug, Clone, PartialEq)]
pub struct Compared {
    pub changed: Vec<FactValue>,
    pub now: Outcome,
    pub then: Outcome,
}

/// One thing to say.
#[derive(Debug, Clone, PartialEq)]
pub enum Say {
    /// What was understood.
    Told(Box<Known>),
    /// A mistyped word was taken for this one.
    TookWord(String),
    /// Whether the set is enough; no verdict without a garden, no area where nothing needs watering.
    Answer {
        verdict: Option<Verdict>,
        water_m3_day: f64,
        area_m2: Option<f64>,
        month: u8,
    },
    /// The pump cannot lift water to the outlet.
    NoWater {
        lift_m: f64,
    },
    Assumed(Vec<Assumption>),
    /// Too much voltage for the pump at noon, and the fewer panels that spare it.
    OverDriven {
        cure: Option<Cure>,
    },
    /// The cable carries less than the panels can push through it; the size to take, where one is thick enough.
    WireBurns {
        size_mm2: f64,
        take_mm2: Option<f64>,
    },
    /// Panels and pump are of different voltages.
    Mismatch {
        panels_v: f64,
        pump_v: f64,
    },
    /// Hours of sun that the garden needs on a day, and what a bed of 10 m² takes of that.
    Hours {
        hours: f64,
        garden_m2: f64,
        bed_minutes: f64,
        bed_cans: f64,
    },
    /// What is still to be told and could turn the answer.
    AskGuess(Guess),
    /// How the panels of each pump are joined, and how many are left over.
    Joined {
        series: u32,
        parallel: u32,
        unused: u32,
    },
    /// The pump can take more than the well gives.
    WellRunsDry,
    /// Open-circuit voltage calls for a licensed electrician.
    HighVoltage,
    Safety(Safety),
    /// A word that leads on.
    NextWord(Command),
    /// The one question of this message, alone or beside an answer.
    Ask {
        field: Field,
        beside_answer: bool,
    },
    /// A value was refused, with what is possible.
    Refused(Trouble),
    /// An unusual value is asked back.
    IsItRight(Trouble),
    /// A value is unusual, where nobody is there to be asked.
    Unusual(Trouble),
    /// A word that does something in a talk alone.
    OnlyInTalk(Command),
    DidYouMean {
        word: String,
        meant: String,
    },
    /// Words that were passed over.
    PassedOver(Vec<String>),
    /// Nothing at all, with an example of what would be.
    NothingUnderstood,
    /// The same in a word, before a question.
    NotUnderstood,
    /// The message went on past what is looked at.
    OnlyStartRead,
    /// What a field is and how to measure it.
    About(Field),
    /// Which bore and why.
    Bore {
        is_told: bool,
        pipe_m: f64,
        bore_mm: f64,
        pipe_loss_m: f64,
    },
    /// One step of what is told in several messages.
    Guide {
        topic: Topic,
        step: &'static str,
    },
    /// One question of looking for a fault.
    FaultStep {
        tree: String,
        step: String,
    },
    /// What a fault was found to be, and what to do.
    FaultEnd {
        tree: String,
        end: String,
    },
    /// A set as it is and with something changed.
    Compared(Box<Compared>),
    /// The sheet stays as it was.
    SheetKept,
    /// There is nothing to go on with.
    NoMore,
    /// The head of a menu on a screen.
    Menu(Menu),
    /// One line of a menu: the digit to key, and what it does.
    Choice(u8, Item),
    /// One line of the menu of languages: the digit, and the language's own name.
    ChoiceOfLanguage(u8, String),
    /// What was keyed is on no line of the menu.
    NoSuchChoice,
    /// The answer also goes out as a short message.
    AlsoBySms,
    /// No answer could be made in time.
    Busy,
    PlaceUnknown {
        name: String,
        known: Vec<String>,
    },
    /// Degrees or metres of a spot that are none.
    SpotRefused,
    /// Whose climate a town or a spot has; it must be said when the place was told just now, and always when rough.
    Climate {
        source: Box<PlaceSource>,
        is_new: bool,
    },
    StillSame,
    /// A part of what a topic is answered with: the answer itself is part 0.
    Topic {
        topic: String,
        part: usize,
    },
    /// Nothing was understood: which of two topics is meant.
    WhichTopic {
        first: String,
        second: String,
    },
    /// What to do and not to do in a danger, whom to call, and that a person was told.
    Danger {
        kind: DangerKind,
        line: DangerLine,
        /// A second danger whose first line is said where there is room.
        also: Option<DangerKind>,
        /// The deployment's emergency number.
        emergency: Option<String>,
    },
    NewSheet,
    Stopped,
    Started,
    HandedOver,
    /// The same, to somebody who was told so just now.
    StillHandedOver,
    ForgetSure,
    Forgotten,
    /// Nothing was deleted after all.
    Kept,
    /// The poor day's water and the hours with water on the design month's mean day.
    PoorDay {
        poor_day_m3: f64,
        pumping_hours: f64,
    },
    /// Flow at bright noon and what the pipe loses of it.
    Noon {
        flow_l_min: f64,
        pipe_loss_m: f64,
        bore_mm: f64,
    },
    /// Changes that together make the set enough: the place among those told, and what they add in cost.
    Fix {
        place: usize,
        changes: Vec<Change>,
        area_m2: f64,
        added_cost: Option<Decimal>,
        currency: String,
    },
    /// A whole set to buy.
    Proposal(Box<ProposedSet>),
    /// No set waters that much.
    NoSet,
    /// What a bucket test says of the pump.
    Test(Finding),
    /// How that test was understood.
    TestTaken {
        outlet_m: f64,
        hour: u32,
        minute: u32,
        sky: TestSky,
    },
    /// The figures are the set's own, from so many tests.
    OwnNumbers {
        tests: usize,
    },
    /// The pump stands higher above the water than this.
    SuctionTooHigh {
        greatest_m: f64,
    },
    /// The three stances of the cart.
    Stances(Box<DayStances>),
    /// Hours of the clock with good flow on a bright day.
    GoodHours {
        month: u8,
        from_h: f64,
        to_h: f64,
    },
    /// How often to water, and how much each time.
    Interval {
        days: f64,
        litres_m2: f64,
        crop: &'static str,
        soil: &'static str,
        soil_is_told: bool,
    },
    /// What is reminded of, and when.
    RemindersSet(Vec<(ReminderKind, NaiveDate)>),
    RemindersOff,
    /// A pump with electronics has none to look at.
    NoBrushes,
    /// The reminder itself: the pump has run so many hours.
    BrushesDue {
        hours: f64,
    },
    /// The reminder itself: the water is lowest in this month.
    LowWaterComes {
        month: u8,
    },
    NothingToChange,
    NoChangeHelps,
    Cost(Box<Money>),
    /// Parts without a price.
    NoPrice(Vec<String>),
    /// Cable and breaker.
    Wire {
        wire_m: f64,
        size_mm2: f64,
        breaker_a: Option<f64>,
        string_fuse_a: Option<f64>,
    },
}
