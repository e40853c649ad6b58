//! Artwork: the bare area from a picture in which dark is bare.
//!
//! PNG, any bit depth and colour; a pixel darker than mid-grey (ITU-R BT.601 luma) counts
//! as bare, a transparent one as resist.

use std::io::{self, BufRead, ErrorKind, Seek};

/// Most pixels that a picture may have: 100 million.
const MOST_PIXELS: u64 = 100_000_000;

/// Bare area in m2 of a picture that is `width_m` wide on the sheet; `name` stands in messages.
///
/// # Errors
/// A sentence on what is wrong with the picture.
pub fn bare_area(
    name: &str,
    file: io::Result<impl BufRead + Seek>,
    width_m: f64,
) -> Result<f64, String> {
    let file = file.map_err(|e| match e.kind() {
        ErrorKind::IsADirectory | ErrorKind::Unsupported => {
            format!("\"{name}\" is a folder, a pipe or a device; allowed: a PNG file")
        }
        ErrorKind::NotFound => {
            format!("\"{name}\" cannot be opened: no such file; allowed: a PNG file, named as seen from the job's folder")
        }
        ErrorKind::PermissionDenied => format!("\"{name}\" cannot be opened: you may not read it"),
        _ => format!("\"{name}\" cannot be opened: {e}"),
    })?;
    let bad = |e: png::DecodingError| {
        let why = e.to_string();
        let why = why.trim_end_matches('.');
        format!("\"{name}\" is not a PNG file that can be read: {why}; save the artwork as PNG")
    };
    let mut decoder = png::Decoder::new(file);
    decoder.set_transformations(png::Transformations::EXPAND | png::Transformations::STRIP_16);
    let mut reader = decoder.read_info().map_err(bad)?;
    let (w, h) = reader.info().size();
    if u64::from(w) * u64::from(h) > MOST_PIXELS {
        return Err(format!("\"{name}\" has {w} x {h} pixels; allowed: 100 million in all"));
    }
    let size = reader.output_buffer_size().ok_or_else(|| format!("\"{name}\" is too large"))?;
    let mut buffer = vec![0; size];
    let frame = reader.next_frame(&mut buffer).map_err(bad)?;
    let dark = count_dark(&buffer[..frame.buffer_size()], frame.color_type);
    if dark == 0 {
        return Err(format!("\"{name}\" has no dark pixel; dark is what is bare"));
    }
    let pixel = width_m / f64::from(w);
    Ok(dark as f64 * pixel * pixel)
}

fn count_dark(pixels: &[u8], color: png::ColorType) -> usize {
    let luma =
        |p: &[u8]| (299 * u32::from(p[0]) + 587 * u32::from(p[1]) + 114 * u32::from(p[2])) / 1000;
    let samples = color.samples();
    let dark = |p: &&[u8]| match color {
        png::ColorType::Grayscale => p[0] < 128,
        png::ColorType::GrayscaleAlpha => p[0] < 128 && p[1] >= 128,
        png::ColorType::Rgb => luma(p) < 128,
        png::ColorType::Rgba => luma(p) < 128 && p[3] >= 128,
        png::ColorType::Indexed => false, // expanded to colour before it gets here
    };
    pixels.chunks_exact(samples).filter(dark).count()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn picture(color: png::ColorType, w: u32, h: u32, data: &[u8]) -> Vec<u8> {
        let mut file = Vec::new();
        let mut encoder = png::Encoder::new(&mut file, w, h);
        encoder.set_color(color);
        encoder.write_header().unwrap().write_image_data(data).unwrap();
        file
    }

    fn area(file: &[u8], width_m: f64) -> Result<f64, String> {
        bare_area("a.png", Ok(io::Cursor::new(file)), width_m)
    }

    #[test]
    fn dark_is_bare() {
        // 4 x 2 pixels, three dark; 8 mm wide: a pixel is 2 mm.
        let file =
            picture(png::ColorType::Grayscale, 4, 2, &[0, 255, 100, 200, 127, 128, 255, 255]);
        assert!((area(&file, 8e-3).unwrap() - 3.0 * 4e-6).abs() < 1e-12);
        // Transparent black is resist.
        let file = picture(png::ColorType::Rgba, 2, 1, &[0, 0, 0, 0, 10, 10, 10, 255]);
        assert!((area(&file, 2e-3).unwrap() - 1e-6).abs() < 1e-12);
    }

    #[test]
    fn what_is_no_artwork_says_why() {
        let white = picture(png::ColorType::Grayscale, 1, 1, &[255]);
        assert!(area(&white, 1e-3).unwrap_err().contains("no dark pixel"));
        assert!(area(b"no picture", 1e-3).unwrap_err().contains("not a PNG"));
        for (kind, word) in [
            (ErrorKind::NotFound, "cannot be opened"),
            (ErrorKind::IsADirectory, "a folder"),
            (ErrorKind::Unsupported, "a device"),
        ] {
            let refused = Err::<io::Empty, _>(kind.into());
            let why = bare_area("nowhere.png", refused, 1e-3).unwrap_err();
            assert!(why.contains("nowhere.png") && why.contains(word), "{why}");
        }
    }
}
