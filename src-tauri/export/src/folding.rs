/// Longest content line of a calendar file in octets, without its CRLF (RFC 5545, 3.1; from memory).
const LONGEST: usize = 75;

/// Brings a calendar file into the form that strict readers want, whatever wrote it: every line ends in
/// CRLF, none has more than 75 octets, and no character is cut in two.
///
/// An alarm's DTSTAMP is taken out: the `icalendar` crate writes one, and RFC 5545, 3.6.6 has none there.
pub(crate) fn conformed(calendar: &str) -> String {
    let unfolded = calendar.replace("\r\n ", "").replace("\r\n\t", "");
    let mut out = String::with_capacity(calendar.len());
    let mut in_alarm = false;
    for line in unfolded.lines() {
        in_alarm = (in_alarm || line == "BEGIN:VALARM") && line != "END:VALARM";
        if !(in_alarm && line.starts_with("DTSTAMP")) {
            fold(&mut out, line);
        }
    }
    out
}

/// Appends one content line, folded.
fn fold(out: &mut String, line: &str) {
    let mut octets = 0;
    for c in line.chars() {
        if octets + c.len_utf8() > LONGEST {
            out.push_str("\r\n ");
            octets = 1;
        }
        out.push(c);
        octets += c.len_utf8();
    }
    out.push_str("\r\n");
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    proptest! {
        #[test]
        fn every_line_is_short_and_nothing_is_lost(line in "[ -~äß日本👩🏽‍⚕️]{1,300}") {
            let folded = conformed(&format!("{line}\r\n"));
            prop_assert!(folded.ends_with("\r\n"));
            for part in folded.split("\r\n") {
                prop_assert!(part.len() <= 75, "{} octets", part.len());
                prop_assert!(!part.contains(['\r', '\n']));
            }
            prop_assert_eq!(folded.replace("\r\n ", ""), format!("{line}\r\n"));
        }
    }

    #[test]
    fn a_line_of_75_octets_stays_whole_and_one_of_76_does_not() {
        for (octets, lines) in [(74, 1), (75, 1), (76, 2), (149, 2), (150, 3)] {
            assert_eq!(
                conformed(&format!("{}\n", "x".repeat(octets))).lines().count(),
                lines,
                "{octets} octets"
            );
        }
    }
}
