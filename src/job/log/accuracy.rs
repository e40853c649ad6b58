//! How good the meters are: "1 %", "0.02 V", or both, "1 % + 0.02 V".

use super::reading::What;
use crate::reader::Reader;
use crate::units::{Current, Length, Mass, Misread, Quantity, Share, Time, Voltage, parse, short};

/// One standard deviation of a reading.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Accuracy {
    /// Part that grows with the reading, as a share of it.
    pub relative: f64,
    /// Part that does not, SI.
    pub absolute: f64,
}

impl Accuracy {
    /// One standard deviation at a reading; both parts by root sum of squares.
    pub fn sd(self, reading: f64) -> f64 {
        libm::hypot(self.relative * reading, self.absolute)
    }
}

/// Of everything that can be read.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Accuracies {
    /// Voltmeter.
    pub volts: Accuracy,
    /// Ammeter.
    pub amps: Accuracy,
    /// Caliper.
    pub depth: Accuracy,
    /// Scales.
    pub weight_loss: Accuracy,
    /// Thermometer.
    pub temperature: Accuracy,
    /// Clock, s.
    pub time: Accuracy,
}

impl Default for Accuracies {
    /// What ordinary bench tools do (common practice, no published source).
    fn default() -> Self {
        let relative = |relative| Accuracy { relative, absolute: 0.0 };
        let absolute = |absolute| Accuracy { relative: 0.0, absolute };
        Self {
            volts: Accuracy { relative: 0.01, absolute: 0.01 },
            amps: Accuracy { absolute: 0.01, ..relative(0.02) },
            depth: absolute(2e-5),
            weight_loss: absolute(2e-5),
            temperature: absolute(1.0),
            time: absolute(10.0),
        }
    }
}

impl Accuracies {
    /// Of a reading of this.
    pub fn of(&self, what: What) -> Accuracy {
        match what {
            What::SourceVolts | What::BathVolts => self.volts,
            What::Amps => self.amps,
            What::Depth => self.depth,
            What::WeightLoss => self.weight_loss,
            What::CellTemperature => self.temperature,
        }
    }
}

/// The table `[accuracy]` over what holds otherwise.
pub fn read(r: &mut Reader, otherwise: Accuracies) -> Accuracies {
    let Some(mut sub) = r.sub("accuracy") else {
        return otherwise;
    };
    let mut take = |key: &str, parse: fn(&str) -> Result<Accuracy, Misread>, or: Accuracy| {
        sub.written(key, "", parse).map_or(or, |a| a.is)
    };
    let read = Accuracies {
        volts: take("volts", accuracy::<Voltage>, otherwise.volts),
        amps: take("amps", accuracy::<Current>, otherwise.amps),
        depth: take("depth", accuracy::<Length>, otherwise.depth),
        weight_loss: take("weight_loss", accuracy::<Mass>, otherwise.weight_loss),
        temperature: take("temperature", degrees, otherwise.temperature),
        time: take("time", accuracy::<Time>, otherwise.time),
    };
    sub.finish();
    read
}

/// A share, a quantity, or the two with a plus between.
fn accuracy<Q: Quantity>(text: &str) -> Result<Accuracy, Misread> {
    let mut sum = Accuracy::default();
    let misread = |found: String| {
        let allowed = format!("a share such as \"1 %\", {}, or both with a +", Q::KIND.allowed());
        Misread { found, allowed }
    };
    for part in text.split('+') {
        match (parse::<Share>(part), parse::<Q>(part)) {
            (Ok(share), _) => sum.relative += share.si(),
            (_, Ok(quantity)) => sum.absolute += quantity.si(),
            _ => return Err(misread(format!("\"{}\"", short(text)))),
        }
    }
    if !(sum.relative >= 0.0 && sum.absolute >= 0.0 && sum.relative + sum.absolute > 0.0) {
        return Err(misread(format!("\"{}\", no meter is that good", short(text))));
    }
    if sum.relative > 0.5 {
        return Err(misread(format!("\"{}\", no better than a guess", short(text))));
    }
    Ok(sum)
}

/// A difference of temperature: kelvins.
fn degrees(text: &str) -> Result<Accuracy, Misread> {
    let kelvins = text.trim().strip_suffix('K').and_then(|n| n.trim().parse::<f64>().ok());
    match kelvins.filter(|k| (0.01..=50.0).contains(k)) {
        Some(absolute) => Ok(Accuracy { relative: 0.0, absolute }),
        None => Err(Misread {
            found: format!("\"{}\"", short(text)),
            allowed: "a difference in kelvins, 0.01 K to 50 K, such as \"1 K\"".into(),
        }),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn shares_and_quantities() {
        let both = accuracy::<Voltage>("1 % + 20 mV").unwrap();
        assert!((both.sd(4.0) - 0.04f64.hypot(0.02)).abs() < 1e-12);
        assert_eq!(accuracy::<Length>("0.02 mm").unwrap().absolute, 2e-5);
        for bad in ["", "0 %", "60 %", "1 V", "-1 %", "1", "1 % +"] {
            assert!(accuracy::<Length>(bad).is_err(), "{bad}");
        }
        assert_eq!(degrees("1.5 K").unwrap().absolute, 1.5);
        for bad in ["1 degC", "0 K", "K", "NaN K", "1"] {
            assert!(degrees(bad).is_err(), "{bad}");
        }
    }
}
