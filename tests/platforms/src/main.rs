//! Scores the table and ends with the number of the first line that is not as it should be, at most 254; 0
//! where all are, 255 where the table could not be made. A machine without a system can run it too.

use std::process::ExitCode;

fn main() -> ExitCode {
    let Ok(lines) = platforms::table() else { return ExitCode::from(u8::MAX) };
    let differs = lines.iter().map(String::as_str).ne(platforms::DIGESTS.lines());
    let same = lines.iter().zip(platforms::DIGESTS.lines()).take_while(|(line, expected)| line == expected);
    let first = u8::try_from(same.count() + 1).map_or(254, |first| first.min(254));
    ExitCode::from(if differs { first } else { 0 })
}
