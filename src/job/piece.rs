//! `[piece]`: the sheet, its outline, what of it is bare, and how deep.

use super::file::Files;
use super::metal::{self, Alloy};
use crate::artwork;
use crate::reader::{At, Reader, nearest, quoted, short};
use crate::stock::{Named, Stock};
use crate::units::{
    Area, Length, Misread, Outline, Quantity, Share, Sheet, parse_outline, parse_sheet,
};

/// The sheet.
#[derive(Debug, Clone)]
pub struct Piece {
    /// The alloy.
    pub alloy: Alloy,
    /// Outline of one piece.
    pub outline: At<Outline>,
    /// What of it is bare.
    pub bare: At<Bare>,
    /// Pitch of the pattern's lines.
    pub pitch: Length,
    /// The drawing's word, when no pitch was given.
    pub detail: Option<Detail>,
    /// Thickness.
    pub thickness: At<Sheet>,
    /// Target depth.
    pub depth: At<Length>,
    /// Depth that it has already.
    pub begun: Option<At<Length>>,
    /// How far off the depth may be.
    pub tolerance: Option<Length>,
    /// Metal that must stay.
    pub floor: Option<At<Length>>,
    /// Pieces hung together.
    pub count: At<u32>,
    /// Name of the resist in stock.
    pub resist: Option<String>,
    /// Depth over undercut.
    pub etch_factor: f64,
    /// Current efficiency.
    pub efficiency: Share,
}

/// The bare part of the outline.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Bare {
    /// Its share.
    Share(Share),
    /// Its area, of one piece.
    Area(Area),
}

impl Piece {
    /// Outline area of one piece, m2.
    pub fn outline_m2(&self) -> f64 {
        self.outline.is.area_m2()
    }

    /// Bare area of one piece, m2.
    pub fn bare_m2(&self) -> f64 {
        match self.bare.is {
            Bare::Share(share) => share.si() * self.outline_m2(),
            Bare::Area(area) => area.si(),
        }
    }
}

/// How fine a drawing is, when its pitch was not measured.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Detail {
    /// Bold lines, pitch 8 mm.
    Bold,
    /// Medium lines, pitch 4 mm.
    Medium,
    /// Fine lines, pitch 1.5 mm.
    Fine,
}

impl Detail {
    const ALL: [(&'static str, Self, f64); 3] =
        [("bold", Self::Bold, 8e-3), ("medium", Self::Medium, 4e-3), ("fine", Self::Fine, 1.5e-3)];

    fn pitch(self) -> Length {
        let row = Self::ALL.iter().find(|(_, detail, _)| *detail == self);
        Length::from_si(row.map_or(4e-3, |(_, _, pitch)| *pitch))
    }

    /// The word for it.
    pub fn word(self) -> &'static str {
        Self::ALL.iter().find(|(_, detail, _)| *detail == self).map_or("medium", |(word, ..)| word)
    }
}

/// What could be read of the piece.
#[derive(Default)]
pub struct Draft {
    /// The whole, when nothing was amiss.
    pub piece: Option<Piece>,
    /// A metal named that may not be etched, with the reason.
    pub refused: Option<String>,
    /// The alloy alone.
    pub alloy: Option<Alloy>,
}

pub fn read(mut r: Reader, stock: &Stock, files: Files) -> Draft {
    let (alloy, refused) = metal::read(&mut r, stock);
    let outline = outline(&mut r);
    let bare = bare(&mut r, files);
    let (pitch, detail) = pitch(&mut r);
    let thickness = r
        .written(
            "thickness",
            &format!("{}, or a sheet gauge such as \"18 ga\"", Length::KIND.allowed()),
            parse_sheet,
        )
        .and_then(|t| r.within("thickness", t, "0.05 mm", "20 mm", |s: Sheet| s.0));
    r.require("thickness", "the sheet's thickness, such as \"1.2 mm\" or \"18 ga\"");
    let depth = r.quantity::<Length>("depth", "0.001 mm", "20 mm");
    r.require("depth", "how deep to etch, such as \"0.35 mm\"");
    let begun = r.quantity::<Length>("begun", "0 mm", "20 mm");
    let tolerance = r.quantity::<Length>("depth_tolerance", "0.001 mm", "5 mm").map(|t| t.is);
    let floor = r.quantity::<Length>("floor", "0 mm", "20 mm");
    let one = At { is: 1, place: r.place.clone(), key: r.full("count") };
    let count = r.whole("count", 1, 100).unwrap_or(one);
    let resists = &stock.resists.resist;
    let resist = r.named("resist", resists, &quoted(resists.iter().map(Named::name)));
    let resist = resist.map(|resist| resist.name.clone());
    let etch_factor = r.number("etch_factor", 0.1, 100.0).map_or(1.0, |x| x.is);
    let efficiency = r.quantity::<Share>("efficiency", "1 %", "100 %");
    let efficiency = efficiency.map_or_else(|| Share::from_si(1.0), |x| x.is);
    r.finish();
    let whole = || {
        Some(Piece {
            alloy: alloy.clone()?,
            outline: outline?,
            bare: bare?,
            pitch,
            detail,
            thickness: thickness?,
            depth: depth?,
            begun,
            tolerance,
            floor,
            count,
            resist,
            etch_factor,
            efficiency,
        })
    };
    Draft { piece: whole(), refused, alloy }
}

fn outline(r: &mut Reader) -> Option<At<Outline>> {
    const SIDES: &str = "two sides such as \"42 mm x 28 mm\", or a diameter such as \"60 mm \
                         round\"; an area stands under outline_area";
    let read = |text: &str| {
        parse_outline(text).map_err(|e| Misread { found: e.found, allowed: SIDES.into() })
    };
    let sides = r.written("outline", SIDES, read).and_then(|at| match at.is {
        Outline::Rectangle(a, b) => {
            r.within("outline", at.clone(), "1 mm", "2 m", |_| a)?;
            r.within("outline", at, "1 mm", "2 m", |_| b)
        }
        Outline::Disc(d) => r.within("outline", at, "1 mm", "2 m", |_| d),
        Outline::Area(_) => Some(at),
    });
    let area = r.quantity::<Area>("outline_area", "1 mm2", "4 m2");
    match (r.has("outline"), r.has("outline_area")) {
        (true, true) => {
            r.complain("outline_area", "given beside outline; allowed: one of the two");
            None
        }
        (true, false) => sides,
        (false, true) => area.map(|a| At { is: Outline::Area(a.is), place: a.place, key: a.key }),
        (false, false) => {
            r.missing("outline", SIDES);
            None
        }
    }
}

fn bare(r: &mut Reader, files: Files) -> Option<At<Bare>> {
    let share = r.quantity::<Share>("exposed", "0.1 %", "100 %");
    let area = r.quantity::<Area>("exposed_area", "0.1 mm2", "4 m2");
    let file = r.text("artwork", "the name of a PNG file");
    let width = r.quantity::<Length>("artwork_width", "1 mm", "2 m");
    let given: Vec<&str> =
        ["exposed", "exposed_area", "artwork"].into_iter().filter(|k| r.has(k)).collect();
    if given.len() > 1 {
        for key in &given[1..] {
            let text = format!(
                "given beside {}; allowed: only one of exposed, exposed_area, artwork",
                given[0]
            );
            r.complain(key, text);
        }
        return None;
    }
    if r.has("artwork_width") && !r.has("artwork") {
        if given.is_empty() {
            r.missing("artwork", "the name of a PNG file, beside artwork_width");
            return None;
        }
        r.complain("artwork_width", "given without artwork; allowed: only beside it");
    }
    match given.first() {
        Some(&"exposed") => share.map(|s| At { is: Bare::Share(s.is), place: s.place, key: s.key }),
        Some(&"exposed_area") => {
            area.map(|a| At { is: Bare::Area(a.is), place: a.place, key: a.key })
        }
        Some(_) => {
            r.require(
                "artwork_width",
                "how wide the whole picture is on the sheet, such as \"42 mm\"",
            );
            let (file, width) = (file?, width?);
            let path = files.path(&file.is);
            let picture = (files.open)(&path);
            match artwork::bare_area(&path.display().to_string(), picture, width.is.si()) {
                Ok(area) => Some(At {
                    is: Bare::Area(Area::from_si(area)),
                    place: file.place,
                    key: file.key,
                }),
                Err(why) => {
                    r.complain("artwork", why);
                    None
                }
            }
        }
        None => {
            r.missing(
                "exposed",
                "the bare share of the outline such as \"38 %\", or exposed_area, or artwork with \
                 artwork_width",
            );
            None
        }
    }
}

fn pitch(r: &mut Reader) -> (Length, Option<Detail>) {
    let words = quoted(Detail::ALL.iter().map(|(word, ..)| *word));
    let detail = r.text("detail", &words).and_then(|text| {
        let row = Detail::ALL.iter().find(|(word, ..)| word.eq_ignore_ascii_case(text.is.trim()));
        if row.is_none() {
            let hint = nearest(&text.is, Detail::ALL.iter().map(|(word, ..)| *word));
            let hint = hint.map(|n| format!("did you mean \"{n}\"? ")).unwrap_or_default();
            let found = short(&text.is);
            r.complain("detail", format!("found \"{found}\"; {hint}allowed: {words}"));
        }
        row.map(|(_, detail, _)| *detail)
    });
    let pitch = r.quantity::<Length>("line_pitch", "0.05 mm", "200 mm");
    if r.has("detail") && r.has("line_pitch") {
        r.complain("line_pitch", "given beside detail; allowed: one of the two");
    }
    match pitch {
        Some(pitch) => (pitch.is, None),
        None => {
            let detail = detail.unwrap_or(Detail::Medium);
            (detail.pitch(), Some(detail))
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::parse;

    #[test]
    fn words_for_drawings() {
        for (word, detail, pitch) in Detail::ALL {
            assert_eq!(detail.word(), word);
            assert_eq!(detail.pitch(), parse::<Length>(&format!("{} mm", pitch * 1e3)).unwrap());
        }
    }
}
