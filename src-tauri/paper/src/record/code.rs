use fast_qr::{ECL, QRBuilder};
use picture::{Point, Role, Shape};

use crate::{
    PaperError,
    sheet::{Sheet, Style, Tag, panel},
};

/// Side of a module in points, 0.7 mm: what a telephone reads off a printed or copied sheet (common
/// practice, no source).
const MODULE: f64 = 2.0;
/// ISO/IEC 18004 asks for four modules kept free on every side (from memory).
const QUIET: f64 = 4.0 * MODULE;

/// The digest of the record's data as a QR code, with what it is for.
pub(super) fn draw(sheet: &mut Sheet, name: &str) -> Result<(), PaperError> {
    let code = Modules::of(name)?;
    let side = count(code.width) * MODULE;
    sheet.space(QUIET);
    sheet.room(side + QUIET);
    let (top, left) = (sheet.y, sheet.format.margin);
    let said = format!("QR code of the digest of this record’s data, {name}");
    sheet.described(Tag::Figure, Some(said), |sheet| {
        sheet.put(code.shapes(Point { x: left, y: top }));
    });
    // Nothing stands to the left of the margin, so that side is free as it is.
    let x = left + side + 2.0 * QUIET;
    let text =
        "The code holds the digest of the data, as printed above: it tells which file this sheet belongs to.";
    let width = sheet.format.margin + sheet.format.text_width() - x;
    sheet.paragraph(Tag::Paragraph, text, x, width, Style::QUIET);
    sheet.y = top + side + QUIET;
    Ok(())
}

/// A code, row by row.
struct Modules {
    width: usize,
    dark: Vec<bool>,
}

impl Modules {
    /// Fifteen in a hundred of the code may be lost, by a fold or a stamp (level M). Capital letters and digits
    /// take five bits and a half each instead of eight, so that the code is small (ISO/IEC 18004, from memory).
    fn of(digest: &str) -> Result<Self, PaperError> {
        let code = QRBuilder::new(digest.to_uppercase()).ecl(ECL::M).build()?;
        let rows = (0..code.size).filter_map(|row| code.data.get(row * code.size..(row + 1) * code.size));
        let dark = rows.flatten().map(|module| module.value()).collect();
        Ok(Modules { width: code.size, dark })
    }

    /// One rectangle for the dark modules that stand side by side in a row.
    fn shapes(&self, at: Point) -> Vec<Shape> {
        let mut shapes = Vec::new();
        for (row, modules) in self.dark.chunks(self.width).enumerate() {
            let y = at.y + count(row) * MODULE;
            let mut column = 0;
            for run in modules.chunk_by(|one, other| one == other) {
                if run.first() == Some(&true) {
                    let x = at.x + count(column) * MODULE;
                    shapes.push(panel(Point { x, y }, count(run.len()) * MODULE, MODULE, Role::Ink));
                }
                column += run.len();
            }
        }
        shapes
    }
}

fn count(modules: usize) -> f64 {
    f64::from(u32::try_from(modules).unwrap_or(u32::MAX))
}

#[cfg(test)]
mod tests {
    use picture::Paint;
    use rqrr::PreparedImage;

    use super::*;

    /// What a reader of another make sees in the shapes, each point of the page four pixels wide.
    fn scanned(shapes: &[Shape]) -> String {
        const PIXELS: f64 = 4.0;
        let dark = |x: usize, y: usize| {
            let (x, y) = ((count(x) + 0.5) / PIXELS, (count(y) + 0.5) / PIXELS);
            shapes.iter().any(|shape| {
                let Shape::Rect { at, width, height, paint: Paint { fill: Some(Role::Ink), .. }, .. } = shape
                else {
                    panic!("a code is made of filled rectangles");
                };
                at.x <= x && x < at.x + width && at.y <= y && y < at.y + height
            })
        };
        let mut image = PreparedImage::prepare_from_bitmap(360, 360, dark);
        let grids = image.detect_grids();
        assert_eq!(grids.len(), 1, "one code");
        grids[0].decode().unwrap().1
    }

    #[test]
    fn another_reader_reads_the_digest() {
        for data in [&b"one"[..], b"two", b""] {
            let name = evidence::digest(data).to_string();
            let shapes = Modules::of(&name).unwrap().shapes(Point { x: QUIET, y: QUIET });
            assert_eq!(scanned(&shapes).to_lowercase(), name);
        }
    }
}
