//! How high above the water a pump may stand.

use super::pipe::WATER_KG_M3;
use crate::sizing::error::SizingError;
use crate::sizing::weather::evapotranspiration::air_pressure_kpa;
use crate::units::GRAVITY_M_S2;

/// Vapour pressure of water at 25 degC, kPa (IAPWS-95), as everywhere else for water in the pipe.
const VAPOUR_KPA: f64 = 3.1699;

/// Left to the inlet's losses and to what the pump itself wants over vapour pressure, m (practice: together with the
/// pressure of the air it gives the trade's 6 to 7 m at sea level).
const INLET_M: f64 = 3.0;

/// Greatest suction lift, m, at an altitude (-430..6000 m): `(p_atm - p_vapour)/(rho g) - 3 m`.
///
/// Air pressure by FAO-56 eq. 7.
pub fn greatest_suction_m(alt_m: f64) -> Result<f64, SizingError> {
    let over_vapour_pa = 1000.0 * (air_pressure_kpa(alt_m)? - VAPOUR_KPA);
    Ok((over_vapour_pa / (WATER_KG_M3 * GRAVITY_M_S2) - INLET_M).max(0.0))
}
