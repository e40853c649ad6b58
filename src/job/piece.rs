//! `[piece]`: the sheet, its outline, what of it is bare, and how deep.

use super::metal::{self, Alloy};
use super::reader::{At, Reader, nearest, quoted};
use crate::artwork;
use crate::stock::{Named, Stock, find};
use crate::units::{Area, Length, Outline, Quantity, Share, Sheet, parse_outline, parse_sheet};
use std::path::Path;

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
    /// How far off the depth may be.
    pub tolerance: Option<Length>,
    /// Metal that must stay.
    pub floor: Option<At<Length>>,
    /// Pieces hung together.
    pub count: u32,
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

pub fn read(mut r: Reader, stock: &Stock, folder: &Path) -> Draft {
    let (alloy, refused) = metal::read(&mut r, stock);
    let outline = outline(&mut r);
    let bare = bare(&mut r, folder);
    let (pitch, detail) = pitch(&mut r);
    let thickness = r
        .written("thickness", "a thickness such as \"1.2 mm\" or \"18 ga\"", parse_sheet)
        .and_then(|t| r.within("thickness", t, "0.05 mm", "20 mm", |s: Sheet| s.0));
    r.require("thickness", "the sheet's thickness, such as \"1.2 mm\" or \"18 ga\"");
    let depth = r.quantity::<Length>("depth", "0.001 mm", "20 mm");
    r.require("depth", "how deep to etch, such as \"0.35 mm\"");
    let tolerance = r.quantity::<Length>("depth_tolerance", "0.001 mm", "5 mm").map(|t| t.is);
    let floor = r.quantity::<Length>("floor", "0 mm", "20 mm");
    let count = r.whole("count", 1, 100).map_or(1, |n| n.is);
    let resist = resist(&mut r, stock);
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
    const SIDES: &str = "the sides such as \"42 mm x 28 mm\"";
    let sides = r.written("outline", SIDES, parse_outline).and_then(|at| match at.is {
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
            r.missing("outline", &format!("{SIDES}, or outline_area"));
            None
        }
    }
}

fn bare(r: &mut Reader, folder: &Path) -> Option<At<Bare>> {
    let share = r.quantity::<Share>("exposed", "0.1 %", "100 %");
    let area = r.quantity::<Area>("exposed_area", "0.1 mm2", "4 m2");
    let file = r.text("artwork", "the name of a PNG file");
    let width = r.quantity::<Length>("artwork_width", "1 mm", "2 m");
    let given: Vec<&str> =
        ["exposed", "exposed_area", "artwork"].into_iter().filter(|k| r.has(k)).collect();
    if given.len() > 1 {
        r.complain(given[1], format!("given beside {}; allowed: one of them", given[0]));
        return None;
    }
    if r.has("artwork_width") && !r.has("artwork") {
        r.complain("artwork_width", "given without artwork");
    }
    match given.first() {
        Some(&"exposed") => share.map(|s| At { is: Bare::Share(s.is), place: s.place, key: s.key }),
        Some(&"exposed_area") => {
            area.map(|a| At { is: Bare::Area(a.is), place: a.place, key: a.key })
        }
        Some(_) => {
            r.require("artwork_width", "the width of the artwork's picture on the sheet");
            let (file, width) = (file?, width?);
            match artwork::bare_area(&folder.join(&file.is), width.is.si()) {
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
            r.complain("detail", format!("found \"{}\"; allowed: {words}", text.is));
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

fn resist(r: &mut Reader, stock: &Stock) -> Option<String> {
    let list = &stock.resists.resist;
    let allowed = quoted(list.iter().map(Named::name));
    let text = r.text("resist", &allowed)?;
    match find(list, &text.is) {
        Some(resist) => Some(resist.name.clone()),
        None => {
            let all = list
                .iter()
                .flat_map(|x| x.aliases.iter().map(String::as_str).chain([x.name.as_str()]));
            let hint = nearest(&text.is, all).map(|n| format!("did you mean \"{n}\"? "));
            let hint = hint.unwrap_or_default();
            r.complain(
                "resist",
                format!("\"{}\" is not in stock; {hint}allowed: {allowed}", text.is),
            );
            None
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
