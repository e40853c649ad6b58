//! `[piece]`: the sheet, its outline, what of it is bare, and how deep.

use super::reader::{At, Reader, nearest, quoted};
use super::tree::{Node, short};
use crate::artwork;
use crate::stock::{Metal, Named, Stock, find};
use crate::units::say::figures;
use crate::units::{
    Area, Density, Length, Misread, Outline, Quantity, Share, Sheet, parse_outline, parse_sheet,
};
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

impl Alloy {
    /// The name of an element of it.
    pub fn name_of<'a>(&'a self, symbol: &'a str) -> &'a str {
        self.parts.iter().find(|p| p.element == symbol).map_or(symbol, |p| p.name.as_str())
    }
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

/// The alloy as this job has it.
#[derive(Debug, Clone, PartialEq)]
pub struct Alloy {
    /// In plain words.
    pub title: String,
    /// Density.
    pub density: Density,
    /// Symbol of the main metal.
    pub main: String,
    /// Constituents.
    pub parts: Vec<AlloyPart>,
}

/// A constituent.
#[derive(Debug, Clone, PartialEq)]
pub struct AlloyPart {
    /// Symbol.
    pub element: String,
    /// Name of the element.
    pub name: String,
    /// Mass share, 0..=1.
    pub share: f64,
    /// Valence where the user gave one.
    pub valence: Option<f64>,
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
    let (alloy, refused) = metal(&mut r, stock);
    let outline = outline(&mut r);
    let bare = bare(&mut r, folder);
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
    let tolerance = r.quantity::<Length>("depth_tolerance", "0.001 mm", "5 mm").map(|t| t.is);
    let floor = r.quantity::<Length>("floor", "0 mm", "20 mm");
    let count = r.whole("count", 1, 100).map_or(1, |n| n.is);
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

fn metal(r: &mut Reader, stock: &Stock) -> (Option<Alloy>, Option<String>) {
    r.require("metal", "the sheet's metal, such as \"sterling\" or \"copper\"");
    if let Some(Node::Table(_)) = r.item("metal").map(|item| &item.node) {
        return (r.sub("metal").and_then(|sub| own_metal(sub, stock)), None);
    }
    let allowed = format!(
        "{}, or a table {{ name, density, parts = [{{ element, share, valence }}] }}",
        quoted(stock.metals.iter().map(plain_name))
    );
    let Some(text) = r.text("metal", &allowed) else {
        return (None, None);
    };
    if let Some(refused) = find(&stock.refused, &text.is) {
        return (None, Some(refused.reason.clone()));
    }
    let Some(metal) = r.lookup(&text, &stock.metals, &allowed) else {
        return (None, None);
    };
    let parts = metal.parts.iter().map(|p| AlloyPart {
        element: p.element.clone(),
        name: name_of(&p.element, stock),
        share: p.share.is.si(),
        valence: None,
    });
    let alloy = Alloy {
        title: metal.title.clone(),
        density: metal.density.is,
        main: metal.main.clone(),
        parts: parts.collect(),
    };
    (Some(alloy), None)
}

/// A metal's name in the trade, where its own is the number of a standard.
fn plain_name(metal: &Metal) -> &str {
    let number = metal.name.starts_with('C') && metal.name.ends_with(|c: char| c.is_ascii_digit());
    metal.aliases.first().filter(|_| number).unwrap_or(&metal.name)
}

/// A table of the user's own alloy.
fn own_metal(mut r: Reader, stock: &Stock) -> Option<Alloy> {
    let title = r.text("name", "the alloy's name, a text");
    r.require("name", "the alloy's name, such as \"gilding metal\"");
    let density = r.quantity::<Density>("density", "1 g/cm3", "25 g/cm3");
    r.require("density", "the alloy's density, such as \"8.9 g/cm3\"");
    const PARTS: &str = "a list such as [{ element = \"Cu\", share = \"90 %\", valence = 2 }, ...]";
    r.require("parts", PARTS);
    let item = r.item("parts");
    let list = match item.map(|i| &i.node) {
        Some(Node::List(list)) if !list.is_empty() => list.as_slice(),
        Some(other) => {
            r.complain("parts", format!("found {}; allowed: {PARTS}", other.kind()));
            &[]
        }
        None => &[],
    };
    let mut parts: Vec<AlloyPart> = Vec::new();
    for entry in list {
        let Node::Table(table) = &entry.node else {
            let text = format!("found {}; allowed: {PARTS}", entry.node.kind());
            r.complain_at(&entry.place, "parts", text);
            continue;
        };
        let sub = r.beside(table, entry, "parts");
        if let Some(part) = own_part(sub, stock) {
            if parts.iter().any(|p| p.element == part.element) {
                let text = format!(
                    "\"{}\" stands here a second time; allowed: each element once",
                    part.element
                );
                r.complain_at(&entry.place, "parts", text);
            }
            parts.push(part);
        }
    }
    r.finish();
    let whole = parts.len() == list.len() && !parts.is_empty();
    let sum: f64 = parts.iter().map(|p| p.share).sum();
    if whole && (sum - 1.0).abs() > 1e-3 {
        let text = format!("the shares add up to {} %; allowed: 100 %", figures(100.0 * sum, 6));
        r.complain("parts", text);
    }
    let main = parts.iter().max_by(|a, b| a.share.total_cmp(&b.share))?.element.clone();
    // A last digit's rounding in the shares is not the user's fault.
    parts.iter_mut().for_each(|p| p.share /= sum);
    let chromium = parts.iter().any(|p| p.element == "Cr"); // refused later, with its reason
    if whole && !chromium && !stock.electrodes.anode.iter().any(|a| a.species == main) {
        let text = format!(
            "found an alloy that is mostly {}; allowed: alloys that are mostly silver or copper",
            name_of(&main, stock)
        );
        r.complain("parts", text);
        return None;
    }
    whole.then_some(())?;
    Some(Alloy { title: short(&title?.is), density: density?.is, main, parts })
}

fn name_of(symbol: &str, stock: &Stock) -> String {
    stock.element(symbol).map_or_else(|| symbol.to_string(), |e| e.title.clone())
}

fn own_part(mut r: Reader, stock: &Stock) -> Option<AlloyPart> {
    let symbols = quoted(stock.elements.iter().map(|e| e.symbol.as_str()));
    let element = r.text("element", &symbols);
    r.require("element", &format!("one of {symbols}"));
    let known = element.filter(|e| {
        let there = stock.element(&e.is).is_some();
        if !there {
            let same = |name: &str| name.eq_ignore_ascii_case(e.is.trim());
            let meant = stock.elements.iter().find(|x| same(&x.symbol) || same(&x.title));
            let hint = meant.map(|x| format!("did you mean \"{}\"? ", x.symbol));
            let (found, hint) = (short(&e.is), hint.unwrap_or_default());
            r.complain("element", format!("found \"{found}\"; {hint}allowed: {symbols}"));
        }
        there
    });
    let share = r.quantity::<Share>("share", "0.001 %", "100 %");
    r.require("share", "the mass share, such as \"90 %\"");
    let valence = r.whole("valence", 1, 7).map(|v| f64::from(v.is));
    r.finish();
    let element = known?.is;
    Some(AlloyPart { name: name_of(&element, stock), element, share: share?.is.si(), valence })
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

fn bare(r: &mut Reader, folder: &Path) -> Option<At<Bare>> {
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
