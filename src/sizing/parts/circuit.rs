//! One pump with its panels, cable and pipe: everything that decides how much water it lifts in a given light.

use super::panel::Panel;
use super::pipe::Pipe;
use super::pump::Pump;

/// Share of the light that the cells turn to use: dust, age, mismatch (practice).
pub const SOILING_DERATE: f64 = 0.90;

/// Share of the array's greatest power that a pump with electronics gets.
pub const MPPT_EFFICIENCY: f64 = 0.95;

/// Faster than any array here drives a pump, in label speeds.
const MOST_SPEED: f64 = 5.0;

/// One pump's circuit. Several equal pumps on one array are so many circuits, each with its share of the strings.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Circuit {
    pub panel: Panel,
    /// Panels in series in a string.
    pub series: f64,
    /// Rows in parallel on this pump.
    pub parallel: f64,
    pub pump: Pump,
    pub pipe: Pipe,
    /// Lift plus the pressure wanted at the outlet, m.
    pub static_head_m: f64,
    /// Cable from the panels to the pump, out and back, warm.
    pub cable_ohm: f64,
}

/// What pump and pipe do together at one speed.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct OperatingPoint {
    pub speed: f64,
    pub flow_m3_s: f64,
    /// Head the pump works against, m; at no flow the head it builds up.
    pub head_m: f64,
    pub pump_v: f64,
    pub pump_a: f64,
}

impl Circuit {
    /// Head that the pipe asks for at a flow, m.
    pub fn system_head_m(&self, flow_m3_s: f64) -> f64 {
        self.static_head_m + self.pipe.loss_m(flow_m3_s)
    }

    /// Speed at which the pump just holds the water at the outlet.
    pub fn starting_speed(&self) -> f64 {
        self.pump.speed_for(0.0, self.static_head_m.max(0.0))
    }

    /// Pump and pipe at a flow, with the speed that it takes.
    pub fn at_flow(&self, flow_m3_s: f64) -> OperatingPoint {
        let head_m = self.system_head_m(flow_m3_s);
        self.running(self.pump.speed_for(flow_m3_s, head_m), flow_m3_s)
    }

    /// The pump turning at a speed that lifts nothing out.
    pub fn without_flow(&self, speed: f64) -> OperatingPoint {
        self.running(speed, 0.0)
    }

    /// Pump and pipe at a speed and a flow that belong together.
    pub fn running(&self, speed: f64, flow_m3_s: f64) -> OperatingPoint {
        let head_m = self.head_m(speed, flow_m3_s);
        let pump_a = self.pump.current_a(speed, flow_m3_s, head_m);
        OperatingPoint { speed, flow_m3_s, head_m, pump_v: self.pump.voltage_v(speed, pump_a), pump_a }
    }

    /// Head the pump works against: what pipe and lift ask for; of a centrifugal pump that does not reach so high, what it builds up.
    fn head_m(&self, speed: f64, flow_m3_s: f64) -> f64 {
        if self.pump.displacement { self.system_head_m(flow_m3_s) } else { self.pump.head_m(speed, flow_m3_s) }
    }

    /// The flow, m³/s, at which a displacement pump reaches the greatest head it bears; of any other pump none.
    pub fn greatest_flow_m3_s(&self) -> f64 {
        if !self.pump.displacement {
            return f64::INFINITY;
        }
        if self.static_head_m >= self.pump.shut_off_m {
            return 0.0;
        }
        let (mut low, mut high) = (0.0, self.pump.free_flow_m3_s * MOST_SPEED);
        if self.system_head_m(high) <= self.pump.shut_off_m {
            return f64::INFINITY;
        }
        for _ in 0..60 {
            let middle = 0.5 * (low + high);
            if self.system_head_m(middle) < self.pump.shut_off_m {
                low = middle;
            } else {
                high = middle;
            }
        }
        low
    }

    /// Voltage the array must hold for the pump to run so: the pump's own and the cable's drop.
    pub fn array_v(&self, running: &OperatingPoint) -> f64 {
        running.pump_v + running.pump_a * self.cable_ohm
    }

    /// Short-circuit current of this circuit's array, A.
    pub fn isc_a(&self) -> f64 {
        self.panel.isc_a() * self.parallel
    }
}
