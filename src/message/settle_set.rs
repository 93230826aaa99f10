//! Panels, pumps and bucket tests: fields that are put together from several numbers.

use crate::language::Field;

use super::fit_label::clock_of;
use super::items::{Item, Quantity, Said, Shape};
use super::limits::Kind;
use super::reading::{FactValue, PumpFact, Span, TestFact, TroubleCode};
use super::roles::{Fit, Role};
use super::settle::Settler;

impl Settler<'_> {
    pub fn panel(&mut self, values: &[&Said], fit: &Fit, whole: Span) {
        let (mut count, mut each_w, mut total_w) = (None, None, None);
        let mut bad = false;
        for (said, role) in values.iter().zip(fit.roles) {
            let took = match (role, &said.shape) {
                (Role::Take(Kind::PanelCount), Shape::One(quantity) | Shape::Counted(quantity)) => {
                    self.count(Kind::PanelCount, quantity, said).map(|value| count = Some(value))
                }
                (Role::Take(Kind::PanelEach), Shape::One(quantity)) => {
                    self.number(Kind::PanelEach, quantity, said).map(|value| each_w = Some(value))
                }
                (Role::Take(_), Shape::One(quantity)) => {
                    self.number(Kind::PanelTotal, quantity, said).map(|value| total_w = Some(value))
                }
                (Role::CountTimes(_), Shape::Product(first, second)) => {
                    let (many, each) = panel_order(first, second);
                    let many = self.count(Kind::PanelCount, many, said);
                    let each = self.number(Kind::PanelEach, each, said);
                    many.zip(each).map(|(many, each)| (count, each_w) = (Some(many), Some(each)))
                }
                _ => {
                    self.wrong(role, said, Some(Field::Panel));
                    None
                }
            };
            bad |= took.is_none();
        }
        // Half of a count times watts would be another set.
        if bad {
            return;
        }
        if let (Some(count), Some(each_w)) = (count, each_w)
            && self.checked(Kind::PanelTotal, f64::from(count) * each_w, whole).is_none()
        {
            return;
        }
        self.fact(FactValue::Panel { count, each_w, total_w }, whole);
    }

    pub fn pump(&mut self, values: &[&Said], fit: &Fit, whole: Span) {
        let mut pump = PumpFact::default();
        for (said, role) in values.iter().zip(fit.roles) {
            match (role, &said.shape) {
                (Role::Take(Kind::PumpCount), Shape::One(quantity) | Shape::Counted(quantity)) => {
                    pump.count = self.count(Kind::PumpCount, quantity, said);
                }
                (Role::Take(kind), Shape::One(quantity)) => self.pump_part(&mut pump, kind, quantity, said),
                (Role::CountTimes(kind), Shape::Product(count, quantity)) => {
                    pump.count = self.count(Kind::PumpCount, count, said);
                    self.pump_part(&mut pump, kind, quantity, said);
                }
                _ => self.wrong(role, said, Some(Field::Pump)),
            }
        }
        if pump != PumpFact::default() {
            self.fact(FactValue::Pump(pump), whole);
        }
    }

    fn pump_part(&mut self, pump: &mut PumpFact, kind: Kind, quantity: &Quantity, said: &Said) {
        let value = self.number(kind, quantity, said);
        match kind {
            Kind::PumpVolts => pump.label_v = value,
            Kind::PumpFlow => pump.flow_l_h = value,
            Kind::PumpHead => pump.head_m = value,
            _ => pump.amps = value,
        }
    }

    pub fn test(&mut self, head: Option<&Item>, values: &[&Said], fit: &Fit) {
        let (mut litres, mut seconds, mut outlet_m, mut clock) = (None, None, None, None);
        let troubles = self.reading.troubles.len();
        for (said, role) in values.iter().zip(fit.roles) {
            match (role, &said.shape) {
                (Role::Take(kind), Shape::One(quantity)) => {
                    let value = self.number(kind, quantity, said);
                    match kind {
                        Kind::TestLitres => litres = value,
                        Kind::TestSeconds => seconds = value,
                        _ => outlet_m = value,
                    }
                }
                (Role::Clock, &Shape::Clock(hour, minute)) => clock = Some((hour, minute)),
                (Role::Clock, Shape::One(quantity)) => clock = clock_of(quantity.number),
                _ => self.wrong(role, said, None),
            }
        }
        let first = values.iter().map(|said| said.start).chain(head.map(|head| head.start)).min();
        let last = values.iter().map(|said| said.end).chain(head.map(|head| head.end)).max();
        let at = self.span(first.unwrap_or_default(), last.unwrap_or_default());
        match (litres, seconds) {
            (Some(litres), Some(seconds)) => {
                self.fact(FactValue::Test(TestFact { litres, seconds, outlet_m, clock, sky: None }), at);
            }
            _ if self.reading.troubles.len() > troubles => {}
            _ => self.trouble(TroubleCode::TestIncomplete, at, None),
        }
    }
}

/// Which side of a times sign counts panels: the one without watts, else the smaller.
fn panel_order<'q>(first: &'q Quantity, second: &'q Quantity) -> (&'q Quantity, &'q Quantity) {
    let power = |quantity: &Quantity| quantity.measured() == Some(crate::units::Quantity::Power);
    match (power(first), power(second)) {
        (true, false) => (second, first),
        (false, true) => (first, second),
        _ if first.number <= second.number => (first, second),
        _ => (second, first),
    }
}
