//! One table of units for each quantity; the types are `uom`'s where it has one.
//!
//! Factors to SI: exact by definition (SI Brochure, NIST SP 811), none rounded.

use super::quantity::{Kind, Quantity, Unit};

pub use uom::si::f64::{
    Area, Capacitance, ElectricCharge as Charge, ElectricCurrent as Current,
    ElectricCurrentDensity as CurrentDensity, ElectricPotential as Voltage,
    ElectricalConductivity as Conductivity, ElectricalResistance as Resistance,
    ElectricalResistivity as Resistivity, HeatCapacity, Length, MassDensity as Density,
    MolarConcentration, MolarMass, Ratio as Share, SpecificHeatCapacity, TemperatureCoefficient,
    TemperatureInterval, ThermalConductance, ThermalConductivity,
    ThermodynamicTemperature as Temperature, Time, Velocity, Volume,
};
use uom::si::{
    area::square_meter, capacitance::farad, electric_charge::coulomb, electric_current::ampere,
    electric_current_density::ampere_per_square_meter, electric_potential::volt,
    electrical_conductivity::siemens_per_meter, electrical_resistance::ohm,
    electrical_resistivity::ohm_meter, heat_capacity::joule_per_kelvin, length::meter,
    mass_density::kilogram_per_cubic_meter, molar_concentration::mole_per_cubic_meter,
    molar_mass::kilogram_per_mole, ratio::ratio, specific_heat_capacity::joule_per_kilogram_kelvin,
    temperature_coefficient::per_kelvin, temperature_interval,
    thermal_conductance::watt_per_kelvin, thermal_conductivity::watt_per_meter_kelvin,
    thermodynamic_temperature::kelvin, time::second, velocity::meter_per_second,
    volume::cubic_meter,
};

/// Mass of dissolved metal in a volume of bath, kg/m3; kept apart from [`Density`].
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct MassConcentration(pub f64);

/// Charge through a bare area, C/m2.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct ChargePerArea(pub f64);

/// Mass, kg.
pub use uom::si::f64::Mass;
use uom::si::mass::kilogram;

/// A rate constant, 1/s; kept apart from a frequency.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct RateConstant(pub f64);

/// Voltage for each kelvin, V/K (an entropy coefficient dU/dT).
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct VoltsPerKelvin(pub f64);

/// Resistance of a length of wire, ohm/m.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct ResistancePerLength(pub f64);

const fn unit(name: &'static str, factor: f64) -> Unit {
    Unit { name, factor, offset: 0.0 }
}

macro_rules! quantity {
    ($type:ty, $what:literal, named $named:literal, $from:expr, $to:expr,
     [$($name:literal = $factor:expr),+ $(,)?]) => {
        impl Quantity for $type {
            const KIND: Kind = Kind {
                what: $what,
                units: &[$(unit($name, $factor)),+],
                named: $named,
            };
            fn from_si(si: f64) -> Self {
                $from(si)
            }
            fn si(self) -> f64 {
                $to(self)
            }
        }
    };
}

const INCH: f64 = 0.0254;

quantity!(Length, "a length", named 5, Length::new::<meter>, |q: Length| q.get::<meter>(), [
    "mm" = 1e-3, "cm" = 1e-2, "m" = 1.0, "in" = INCH, "thou" = 1e-3 * INCH, "um" = 1e-6,
    "µm" = 1e-6, "inch" = INCH, "\"" = INCH, "mil" = 1e-3 * INCH, "ft" = 12.0 * INCH,
]);
quantity!(Area, "an area", named 4,
    Area::new::<square_meter>, |q: Area| q.get::<square_meter>(), [
    "mm2" = 1e-6, "cm2" = 1e-4, "m2" = 1.0, "in2" = INCH * INCH, "mm²" = 1e-6, "cm²" = 1e-4,
    "m²" = 1.0, "in²" = INCH * INCH, "sq in" = INCH * INCH,
]);
/// The US gallon: 231 in3 exactly (NIST SP 811, appendix B); a quart is a fourth of it, a fluid
/// ounce a 128th. The British ones are larger by a fifth, and smaller by 4 %, and not meant.
const GALLON: f64 = 231.0 * INCH * INCH * INCH;

quantity!(Volume, "a volume", named 6,
    Volume::new::<cubic_meter>, |q: Volume| q.get::<cubic_meter>(), [
    "mL" = 1e-6, "L" = 1e-3, "cm3" = 1e-6, "in3" = INCH * INCH * INCH, "US qt" = GALLON / 4.0,
    "US fl oz" = GALLON / 128.0, "qt" = GALLON / 4.0, "fl oz" = GALLON / 128.0, "ml" = 1e-6, "l" = 1e-3,
    "dL" = 1e-4, "cm³" = 1e-6, "m3" = 1.0, "gal" = GALLON,
]);
quantity!(Mass, "a mass", named 3, Mass::new::<kilogram>, |q: Mass| q.get::<kilogram>(), [
    "g" = 1e-3, "kg" = 1.0, "mg" = 1e-6, "ozt" = 0.031_103_476_8,
]);
quantity!(Density, "a density", named 2,
    Density::new::<kilogram_per_cubic_meter>,
    |q: Density| q.get::<kilogram_per_cubic_meter>(), [
    "g/cm3" = 1e3, "kg/m3" = 1.0, "g/cm³" = 1e3, "kg/m³" = 1.0, "g/mL" = 1e3,
]);
quantity!(MolarMass, "a molar mass", named 2,
    MolarMass::new::<kilogram_per_mole>, |q: MolarMass| q.get::<kilogram_per_mole>(), [
    "g/mol" = 1e-3, "kg/mol" = 1.0,
]);
quantity!(MolarConcentration, "a concentration", named 3,
    MolarConcentration::new::<mole_per_cubic_meter>,
    |q: MolarConcentration| q.get::<mole_per_cubic_meter>(), [
    "mol/L" = 1e3, "mmol/L" = 1.0, "mol/m3" = 1.0, "M" = 1e3, "mol/l" = 1e3, "mmol/l" = 1.0,
    "mM" = 1.0,
]);
quantity!(MassConcentration, "a mass of metal per litre", named 2,
    MassConcentration, |q: MassConcentration| q.0, [
    "g/L" = 1.0, "mg/L" = 1e-3, "g/l" = 1.0, "mg/l" = 1e-3, "kg/m3" = 1.0,
]);
quantity!(TemperatureInterval, "a temperature difference", named 1,
    TemperatureInterval::new::<temperature_interval::kelvin>,
    |q: TemperatureInterval| q.get::<temperature_interval::kelvin>(), [
    "K" = 1.0,
]);
quantity!(Voltage, "a voltage", named 2, Voltage::new::<volt>, |q: Voltage| q.get::<volt>(), [
    "V" = 1.0, "mV" = 1e-3,
]);
quantity!(Current, "a current", named 2, Current::new::<ampere>, |q: Current| q.get::<ampere>(), [
    "A" = 1.0, "mA" = 1e-3,
]);
quantity!(Resistance, "a resistance", named 2,
    Resistance::new::<ohm>, |q: Resistance| q.get::<ohm>(), [
    "ohm" = 1.0, "mohm" = 1e-3, "Ω" = 1.0, "mΩ" = 1e-3, "Ohm" = 1.0, "kohm" = 1e3,
]);
quantity!(Resistivity, "a resistivity", named 1,
    Resistivity::new::<ohm_meter>, |q: Resistivity| q.get::<ohm_meter>(), [
    "ohm m" = 1.0,
]);
quantity!(ResistancePerLength, "a resistance per length", named 2,
    ResistancePerLength, |q: ResistancePerLength| q.0, [
    "ohm/km" = 1e-3, "mohm/m" = 1e-3, "ohm/m" = 1.0,
]);
quantity!(Charge, "a charge", named 3, Charge::new::<coulomb>, |q: Charge| q.get::<coulomb>(), [
    "Ah" = 3600.0, "mAh" = 3.6, "C" = 1.0,
]);
quantity!(Capacitance, "a capacitance", named 1,
    Capacitance::new::<farad>, |q: Capacitance| q.get::<farad>(), ["F" = 1.0]);
quantity!(Time, "a time", named 3, Time::new::<second>, |q: Time| q.get::<second>(), [
    "min" = 60.0, "h" = 3600.0, "s" = 1.0, "sec" = 1.0, "hour" = 3600.0, "hours" = 3600.0,
    "minutes" = 60.0, "ms" = 1e-3,
]);
quantity!(Conductivity, "a conductivity", named 3,
    Conductivity::new::<siemens_per_meter>, |q: Conductivity| q.get::<siemens_per_meter>(), [
    "mS/cm" = 0.1, "S/m" = 1.0, "S/cm" = 100.0, "uS/cm" = 1e-4,
]);
quantity!(CurrentDensity, "a current density", named 3,
    CurrentDensity::new::<ampere_per_square_meter>,
    |q: CurrentDensity| q.get::<ampere_per_square_meter>(), [
    "A/cm2" = 1e4, "mA/cm2" = 10.0, "A/dm2" = 100.0, "A/m2" = 1.0, "A/cm²" = 1e4,
    "mA/cm²" = 10.0, "A/dm²" = 100.0, "A/in2" = 1.0 / (INCH * INCH),
]);
quantity!(ChargePerArea, "a charge for each bare area", named 1,
    ChargePerArea, |q: ChargePerArea| q.0, ["C/cm2" = 1e4, "C/m2" = 1.0, "C/cm²" = 1e4]);
quantity!(Share, "a share", named 1, Share::new::<ratio>, |q: Share| q.get::<ratio>(), [
    "%" = 1e-2, "percent" = 1e-2,
]);
quantity!(Velocity, "a velocity", named 1,
    Velocity::new::<meter_per_second>, |q: Velocity| q.get::<meter_per_second>(), [
    "m/s" = 1.0, "um/s" = 1e-6,
]);
quantity!(RateConstant, "a rate constant", named 2, RateConstant, |q: RateConstant| q.0, [
    "1/s" = 1.0, "1/h" = 1.0 / 3600.0,
]);
quantity!(VoltsPerKelvin, "a voltage per kelvin", named 2,
    VoltsPerKelvin, |q: VoltsPerKelvin| q.0, ["mV/K" = 1e-3, "V/K" = 1.0]);
quantity!(ThermalConductance, "a heat loss", named 1,
    ThermalConductance::new::<watt_per_kelvin>,
    |q: ThermalConductance| q.get::<watt_per_kelvin>(), ["W/K" = 1.0]);
quantity!(HeatCapacity, "a heat capacity", named 1,
    HeatCapacity::new::<joule_per_kelvin>,
    |q: HeatCapacity| q.get::<joule_per_kelvin>(), ["J/K" = 1.0, "kJ/K" = 1e3]);
quantity!(SpecificHeatCapacity, "a specific heat", named 1,
    SpecificHeatCapacity::new::<joule_per_kilogram_kelvin>,
    |q: SpecificHeatCapacity| q.get::<joule_per_kilogram_kelvin>(), ["J/(kg K)" = 1.0]);
quantity!(ThermalConductivity, "a thermal conductivity", named 1,
    ThermalConductivity::new::<watt_per_meter_kelvin>,
    |q: ThermalConductivity| q.get::<watt_per_meter_kelvin>(), ["W/(m K)" = 1.0]);
quantity!(TemperatureCoefficient, "a temperature coefficient", named 2,
    TemperatureCoefficient::new::<per_kelvin>,
    |q: TemperatureCoefficient| q.get::<per_kelvin>(), ["%/K" = 1e-2, "1/K" = 1.0]);

/// 0 degC in kelvin, exact.
pub const ZERO_CELSIUS_K: f64 = 273.15;

impl Quantity for Temperature {
    const KIND: Kind = Kind {
        what: "a temperature",
        units: &[
            Unit { name: "degC", factor: 1.0, offset: ZERO_CELSIUS_K },
            Unit { name: "degF", factor: 5.0 / 9.0, offset: ZERO_CELSIUS_K - 160.0 / 9.0 },
            unit("K", 1.0),
            Unit { name: "°C", factor: 1.0, offset: ZERO_CELSIUS_K },
            Unit { name: "°F", factor: 5.0 / 9.0, offset: ZERO_CELSIUS_K - 160.0 / 9.0 },
        ],
        named: 3,
    };
    fn from_si(si: f64) -> Self {
        Self::new::<kelvin>(si)
    }
    fn si(self) -> f64 {
        self.get::<kelvin>()
    }
}
