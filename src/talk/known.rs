//! What a grower has told so far.

use chrono::{DateTime, TimeDelta, Utc};
use serde::{Deserialize, Serialize};

use crate::language::Field;
use crate::message::{Fact, FactValue, PumpFact, Span};
use crate::sizing::bucket::test::BucketTest;
use crate::sizing::parts::pump::PumpLabel;
use crate::sizing::parts::pump_class::PumpClass;
use crate::sizing::{Market, Sheet};

/// Volts of a pump whose label's volts were not told (practice: the commonest small pump).
const LABEL_V_WHEN_NOT_TOLD: f64 = 12.0;

/// Watts up to which a bare number, asked for beside a known count, is one panel and not all of them.
const ONE_PANEL_UP_TO_W: f64 = 700.0;

/// Bucket tests that count; older ones tell of a pump that has worn since.
const TESTS_KEPT: usize = 12;

/// What is told of the set so soon after a test corrects what was told before it (practice).
const CORRECTED_WITHIN: TimeDelta = TimeDelta::days(2);

/// Facts told, kept apart from what the engine fills in.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize)]
#[serde(default)]
pub struct Known {
    /// Everything but the pump and the place.
    pub sheet: Sheet,
    pub pump: PumpFact,
    pub place: Option<String>,
    /// There are no panels yet: the whole set is to be proposed.
    #[serde(skip_serializing_if = "std::ops::Not::not")]
    pub no_panels: bool,
    /// Bucket tests of this set, the latest last.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub tests: Vec<BucketTest>,
}

/// Why what was told of a pump is no pump yet.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum PumpGap {
    /// Flow without head, or head without flow.
    HalfALabel,
    /// A class that the deployment does not have.
    UnknownClass,
}

impl Known {
    /// Nothing told yet.
    pub fn is_empty(&self) -> bool {
        *self == Known::default()
    }

    /// Everything told, as facts, in the order in which a reply lists fields.
    pub fn facts(&self) -> Vec<Fact> {
        let sheet = &self.sheet;
        let mut values: Vec<FactValue> = Vec::new();
        values.extend(sheet.lift_m.map(FactValue::LiftM));
        values.extend(sheet.low_m.map(FactValue::LowM));
        values.extend(sheet.pipe_m.map(FactValue::PipeM));
        values.extend(sheet.bore_mm.map(FactValue::BoreMm));
        if sheet.panel_count.is_some() || sheet.panel_w.is_some() || sheet.panel_total_w.is_some() {
            let (count, each_w, total_w) = (sheet.panel_count, sheet.panel_w, sheet.panel_total_w);
            values.push(FactValue::Panel { count, each_w, total_w });
        }
        values.extend(sheet.stance.map(|kind| FactValue::Stance { code: kind, tilt_deg: sheet.tilt_deg }));
        if self.pump != PumpFact::default() {
            values.push(FactValue::Pump(self.pump.clone()));
        }
        values.extend(sheet.suction_m.map(FactValue::SuctionM));
        values.extend(sheet.well_l_h.map(FactValue::WellLH));
        values.extend(sheet.garden_m2.map(FactValue::GardenM2));
        values.extend(sheet.crop.clone().map(FactValue::Crop));
        values.extend(sheet.soil.clone().map(FactValue::Soil));
        values.extend(sheet.month.map(FactValue::Month));
        values.extend(sheet.watering.map(FactValue::Watering));
        values.extend(sheet.wire_m.map(FactValue::WireM));
        values.extend(sheet.wire_mm2.map(FactValue::WireMm2));
        values.extend(self.place.clone().map(FactValue::Place));
        // They stand in no text any more.
        let at = Span { start: 0, end: 0 };
        values.into_iter().map(|value| Fact { value, at }).collect()
    }

    /// Takes a bucket test; the latest [`TESTS_KEPT`] count.
    pub fn tell_test(&mut self, test: BucketTest) {
        let tests = &mut self.tests;
        tests.push(test);
        let over = tests.len().saturating_sub(TESTS_KEPT);
        tests.drain(..over);
    }

    /// Takes a fact at a moment; see [`Self::carry_tests`].
    pub fn tell_at(&mut self, fact: &FactValue, now: DateTime<Utc>) {
        if self.tests.is_empty() {
            return self.tell(fact);
        }
        let before = self.clone();
        self.tell(fact);
        self.carry_tests(&before, now);
    }

    /// Brings over the tests of what was known before. They belong to the set they were made on: what is told soon after
    /// corrects it, what is told later changes it, and the tests keep the set as it was. Another pump has none.
    pub fn carry_tests(&mut self, before: &Known, now: DateTime<Utc>) {
        let had_pump = before.pump.class.is_some() || before.pump.flow_l_h.is_some();
        if had_pump && label_of(&before.pump) != label_of(&self.pump) {
            self.tests.clear();
            return;
        }
        self.tests.clone_from(&before.tests);
        if set_of(&before.sheet) == set_of(&self.sheet) {
            return;
        }
        for test in &mut self.tests {
            if test.set_then.is_none() && now - test.at > CORRECTED_WITHIN {
                test.set_then = Some(Box::new(before.sheet.clone()));
            }
        }
    }

    /// Whether a label is told that is the tested pump's own, so long after the test that it may be another pump's.
    pub fn is_told_again(&self, told: &PumpFact, now: DateTime<Utc>) -> bool {
        let is_whole = told.class.is_some() || (told.flow_l_h.is_some() && told.head_m.is_some());
        let was_tested = self.tests.last().is_some_and(|test| now - test.at > CORRECTED_WITHIN);
        let mut then = self.clone();
        then.tell_pump(told);
        is_whole && was_tested && label_of(&then.pump) == label_of(&self.pump)
    }

    /// The pump is another one: its tests went with the old one.
    pub fn renew_pump(&mut self) {
        self.tests.clear();
    }

    /// Takes the latest test back; whether there was one.
    pub fn untell_test(&mut self) -> bool {
        self.tests.pop().is_some()
    }

    /// Takes a fact; the newest wins. A test is taken with its moment, by [`Self::tell_test`].
    pub fn tell(&mut self, fact: &FactValue) {
        let sheet = &mut self.sheet;
        match fact {
            FactValue::LiftM(lift_m) => sheet.lift_m = Some(*lift_m),
            FactValue::LowM(low_m) => sheet.low_m = Some(*low_m),
            FactValue::PipeM(pipe_m) => sheet.pipe_m = Some(*pipe_m),
            FactValue::BoreMm(bore_mm) => sheet.bore_mm = Some(*bore_mm),
            FactValue::Panel { count, each_w, total_w } => self.tell_panels(*count, *each_w, *total_w),
            FactValue::Stance { code, tilt_deg } => {
                sheet.stance = Some(*code);
                sheet.tilt_deg = *tilt_deg;
            }
            FactValue::Pump(pump) => self.tell_pump(pump),
            FactValue::SuctionM(suction_m) => sheet.suction_m = Some(*suction_m),
            FactValue::WellLH(well_l_h) => sheet.well_l_h = Some(*well_l_h),
            FactValue::GardenM2(garden_m2) => sheet.garden_m2 = Some(*garden_m2),
            FactValue::Crop(crop) => sheet.crop = Some(crop.clone()),
            FactValue::Soil(soil) => sheet.soil = Some(soil.clone()),
            FactValue::Month(month) => sheet.month = Some(*month),
            FactValue::Watering(watering) => sheet.watering = Some(*watering),
            FactValue::WireM(wire_m) => sheet.wire_m = Some(*wire_m),
            FactValue::WireMm2(wire_mm2) => sheet.wire_mm2 = Some(*wire_mm2),
            FactValue::Place(place) => self.place = Some(place.clone()),
            FactValue::Test(_) => {}
        }
    }

    fn tell_panels(&mut self, count: Option<u32>, each_w: Option<f64>, total_w: Option<f64>) {
        self.no_panels = false;
        let sheet = &mut self.sheet;
        let waits_for_watts = sheet.panel_count.is_some() && sheet.panel_w.is_none() && sheet.panel_total_w.is_none();
        match (count, each_w, total_w) {
            // "5 panels", then the watts on being asked.
            (None, None, Some(watts)) if waits_for_watts && watts <= ONE_PANEL_UP_TO_W => sheet.panel_w = Some(watts),
            (None, Some(watts), None) if waits_for_watts => sheet.panel_w = Some(watts),
            // "4 panels": of the same watts.
            (Some(count), None, None) if sheet.panel_w.is_some() => sheet.panel_count = Some(count),
            _ => {
                sheet.panel_count = count;
                sheet.panel_w = each_w;
                sheet.panel_total_w = total_w;
            }
        }
    }

    /// A new label or class replaces the old one; volts, amps or a count alone complete what is there.
    fn tell_pump(&mut self, told: &PumpFact) {
        if told.class.is_some() || (told.flow_l_h.is_some() && told.head_m.is_some()) {
            let count = told.count.or(self.pump.count);
            self.pump = PumpFact { count, ..told.clone() };
            return;
        }
        let pump = &mut self.pump;
        if told.flow_l_h.is_some() || told.head_m.is_some() {
            pump.class = None;
        }
        pump.label_v = told.label_v.or(pump.label_v);
        pump.flow_l_h = told.flow_l_h.or(pump.flow_l_h);
        pump.head_m = told.head_m.or(pump.head_m);
        pump.amps = told.amps.or(pump.amps);
        pump.electronics = told.electronics.or(pump.electronics);
        pump.displacement = told.displacement.or(pump.displacement);
        pump.count = told.count.or(pump.count);
    }

    /// Takes a field back, so that it can be asked anew.
    pub fn untell(&mut self, field: Field) {
        let sheet = &mut self.sheet;
        match field {
            Field::Lift => sheet.lift_m = None,
            Field::Low => sheet.low_m = None,
            Field::Pipe => sheet.pipe_m = None,
            Field::Bore => sheet.bore_mm = None,
            Field::Panel => (sheet.panel_count, sheet.panel_w, sheet.panel_total_w) = (None, None, None),
            Field::Stance => (sheet.stance, sheet.tilt_deg) = (None, None),
            Field::Pump => self.pump = PumpFact::default(),
            Field::Suction => sheet.suction_m = None,
            Field::Well => sheet.well_l_h = None,
            Field::Garden => sheet.garden_m2 = None,
            Field::Crop => sheet.crop = None,
            Field::Soil => sheet.soil = None,
            Field::Month => sheet.month = None,
            Field::Watering => sheet.watering = None,
            Field::Wire => (sheet.wire_m, sheet.wire_mm2) = (None, None),
            Field::Place => self.place = None,
        }
    }

    /// The field without which no answer can be given, the one that changes it most first.
    pub fn most_wanted(&self) -> Option<Field> {
        let sheet = &self.sheet;
        if sheet.lift_m.is_none() {
            Some(Field::Lift)
        } else if sheet.panel_w.is_none() && sheet.panel_total_w.is_none() && !self.wants_proposal() && !self.no_panels {
            Some(Field::Panel)
        } else if sheet.pipe_m.is_none() {
            Some(Field::Pipe)
        } else if self.no_panels && sheet.lacks_panels() && sheet.garden_m2.is_none() {
            Some(Field::Garden)
        } else if matches!(self.half_label(), Some(PumpGap::HalfALabel)) || self.wants_label() {
            Some(Field::Pump)
        } else {
            None
        }
    }

    /// A garden, and nothing of panels: the whole set is to be proposed.
    fn wants_proposal(&self) -> bool {
        self.sheet.lacks_panels() && self.sheet.garden_m2.is_some()
    }

    /// A test is judged by the label of the pump.
    fn wants_label(&self) -> bool {
        !self.tests.is_empty() && self.pump.class.is_none() && self.pump.flow_l_h.is_none()
    }

    /// Running hours that a pump lasts, where it is of a class of the market's.
    pub fn life_h(&self, market: &Market) -> Option<f64> {
        let (sheet, market) = self.sheet_with_pump(market).ok()?;
        Some(market.class_of(&sheet.pump?)?.life_h)
    }

    fn half_label(&self) -> Option<PumpGap> {
        let pump = &self.pump;
        (pump.class.is_none() && pump.flow_l_h.is_some() != pump.head_m.is_some()).then_some(PumpGap::HalfALabel)
    }

    /// The sheet for the engine, with the pump that was told, and the market with the classes that may
    /// stand in for one that was not.
    pub fn sheet_with_pump(&self, market: &Market) -> Result<(Sheet, Market), PumpGap> {
        let classes = &market.classes;
        let mut sheet = self.sheet.clone();
        sheet.pump_count = self.pump.count;
        if let Some(name) = &self.pump.class {
            let class = classes.iter().find(|class| &class.name == name).ok_or(PumpGap::UnknownClass)?;
            sheet.pump = Some(class.label);
        } else if let (Some(flow_l_h), Some(head_m)) = (self.pump.flow_l_h, self.pump.head_m) {
            sheet.pump = Some(PumpLabel {
                label_v: self.pump.label_v.unwrap_or(LABEL_V_WHEN_NOT_TOLD),
                flow_l_h,
                head_m,
                amps: self.pump.amps,
                electronics: self.pump.electronics.unwrap_or(false),
                displacement: self.pump.displacement.unwrap_or(false),
            });
        } else if let Some(gap) = self.half_label() {
            return Err(gap);
        }
        let fits = |class: &PumpClass| {
            self.pump.label_v.is_none_or(|volts| (volts - class.label.label_v).abs() < 0.5)
                && self.pump.electronics.is_none_or(|electronics| electronics == class.label.electronics)
        };
        let fitting: Vec<PumpClass> = classes.iter().filter(|class| fits(class)).cloned().collect();
        let classes = if fitting.is_empty() { classes.clone() } else { fitting };
        Ok((sheet, Market { classes, prices: market.prices.clone() }))
    }
}

/// What of a sheet makes a set another one, its pump apart.
fn set_of(sheet: &Sheet) -> impl PartialEq + use<> {
    let panels = (sheet.panel_count, sheet.panel_w, sheet.panel_total_w, sheet.stance, sheet.tilt_deg);
    (panels, sheet.pipe_m, sheet.bore_mm, sheet.wire_m, sheet.wire_mm2)
}

/// What makes a pump another one.
fn label_of(pump: &PumpFact) -> impl PartialEq + use<> {
    (pump.label_v, pump.flow_l_h, pump.head_m, pump.electronics, pump.displacement, pump.class.clone())
}
