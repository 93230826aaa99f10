//! Facts as a message in a language's own words: what [`super::parse`] reads back as the same facts.

use crate::language::{Field, Language};
use crate::units::Unit;

use super::reading::{Fact, FactValue, PumpFact, TestFact};

/// Writes facts as a grower could have typed them, parted by commas.
pub fn print(facts: &[Fact], language: &Language) -> String {
    let writer = Writer { language, short: false };
    facts.iter().map(|fact| writer.fact(&fact.value)).collect::<Vec<_>>().join(", ")
}

/// The same in fewer letters: without commas, and without the units that a field is read in anyway.
pub fn print_short(facts: &[Fact], language: &Language) -> String {
    let writer = Writer { language, short: true };
    facts.iter().map(|fact| writer.fact(&fact.value)).collect::<Vec<_>>().join(" ")
}

struct Writer<'l> {
    language: &'l Language,
    short: bool,
}

impl Writer<'_> {
    fn word(&self, table: &str, key: &str) -> String {
        self.language.word(table, key).unwrap_or_default().to_owned()
    }

    fn number(&self, value: f64) -> String {
        self.language.numbers.write(value)
    }

    fn measured(&self, value: f64, unit: Unit) -> String {
        format!("{} {}", self.number(value), self.word("units", unit.name()))
    }

    fn field(&self, field: Field, value: &str) -> String {
        format!("{} {value}", self.word("fields", field.name()))
    }

    fn times(&self) -> String {
        self.word("joiners", "times")
    }

    fn fact(&self, value: &FactValue) -> String {
        let measured = |field, value, unit| {
            let bare = self.short && unit != Unit::SquareMillimetre;
            let written = if bare { self.number(value) } else { self.measured(value, unit) };
            self.field(field, &written)
        };
        match value {
            FactValue::LiftM(lift_m) => measured(Field::Lift, *lift_m, Unit::Metre),
            FactValue::LowM(low_m) => measured(Field::Low, *low_m, Unit::Metre),
            FactValue::PipeM(pipe_m) => measured(Field::Pipe, *pipe_m, Unit::Metre),
            FactValue::BoreMm(bore_mm) => measured(Field::Bore, *bore_mm, Unit::Millimetre),
            FactValue::Panel { count, each_w, total_w } => self.field(Field::Panel, &self.panel(*count, *each_w, *total_w)),
            FactValue::Stance { code, tilt_deg } => {
                let tilt = tilt_deg.map(|tilt| self.measured(tilt, Unit::Degree));
                [Some(self.word("stance", code.name())), tilt].into_iter().flatten().collect::<Vec<_>>().join(" ")
            }
            FactValue::Pump(pump) => self.pump(pump),
            FactValue::SuctionM(suction_m) => measured(Field::Suction, *suction_m, Unit::Metre),
            FactValue::WellLH(well_l_h) => measured(Field::Well, *well_l_h, Unit::LitrePerHour),
            FactValue::GardenM2(garden_m2) => measured(Field::Garden, *garden_m2, Unit::SquareMetre),
            FactValue::Crop(crop) => self.word("crops", crop),
            FactValue::Soil(soil) => self.word("soils", soil),
            FactValue::Month(month) => self.word("months", &month.to_string()),
            FactValue::Watering(watering) => self.word("watering", watering.name()),
            FactValue::WireM(wire_m) => measured(Field::Wire, *wire_m, Unit::Metre),
            FactValue::WireMm2(wire_mm2) => measured(Field::Wire, *wire_mm2, Unit::SquareMillimetre),
            FactValue::Place(place) => self.field(Field::Place, place),
            FactValue::Test(test) => self.test(test),
        }
    }

    fn panel(&self, count: Option<u32>, each_w: Option<f64>, total_w: Option<f64>) -> String {
        if let (true, Some(count), Some(watts)) = (self.short, count, each_w) {
            return format!("{count}{}{}", self.times(), self.number(watts));
        }
        let count = count.map(|count| format!("{count} {}", self.times()));
        let watts = each_w.or(total_w).map(|watts| self.measured(watts, Unit::Watt));
        [count, watts].into_iter().flatten().collect::<Vec<_>>().join(" ")
    }

    fn pump(&self, pump: &PumpFact) -> String {
        let PumpFact { label_v, flow_l_h, head_m, amps, electronics, displacement, count, class } = pump;
        let measured = |value: &Option<f64>, unit| value.map(|value| self.measured(value, unit));
        [
            class.as_ref().map(|class| self.word("classes", class)),
            Some(self.word("fields", Field::Pump.name())),
            count.map(|count| format!("{count} {}", self.times())),
            measured(label_v, Unit::Volt),
            measured(flow_l_h, Unit::LitrePerHour),
            measured(head_m, Unit::Metre),
            measured(amps, Unit::Ampere),
            electronics.map(|electronics| self.word("electronics", if electronics { "yes" } else { "no" })),
            displacement.map(|displacement| self.word("displacement", if displacement { "yes" } else { "no" })),
        ]
        .into_iter()
        .flatten()
        .collect::<Vec<_>>()
        .join(" ")
    }

    fn test(&self, test: &TestFact) -> String {
        let TestFact { litres, seconds, outlet_m, clock, sky } = test;
        [
            Some(self.word("commands", "test")),
            Some(self.measured(*litres, Unit::Litre)),
            Some(self.measured(*seconds, Unit::Second)),
            outlet_m.map(|outlet_m| self.measured(outlet_m, Unit::Metre)),
            clock.map(|(hour, minute)| format!("{hour}:{minute:02}")),
            sky.map(|sky| self.word("sky", sky.name())),
        ]
        .into_iter()
        .flatten()
        .collect::<Vec<_>>()
        .join(" ")
    }
}
