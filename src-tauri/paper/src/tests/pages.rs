use lopdf::Object;

use super::{sample::*, *};

#[test]
fn the_same_record_gives_the_same_bytes() {
    assert_eq!(pdf_of(&record()).unwrap(), pdf_of(&record()).unwrap());
}

#[test]
fn everything_a_reader_needs_stands_on_the_pages() {
    let record = record();
    let text = text_of(&pdf_of(&record).unwrap());
    let data = digest_of(&record);
    for said in [
        "Competency record",
        "Hilltop Hospital · Ward 3",
        "Not yet competent",
        "Not valid; an earlier validation of this procedure ends with it",
        "2 of 5 steps as they should be · 3 critical findings · 2 other findings · Score 50.0 %",
        "Nguyễn Thị Ánh",
        "Registered nurse, staff number 1042",
        "Όλγα Παπαδοπούλου",
        "Юрий Щербаков",
        "Removal after contact precautions, version 1.2.0",
        "contact, droplet",
        "25 November 2026",
        "10:02:03 to 10:05:13 (Europe/Berlin)",
        "Assessed: the person worked unaided",
        "An apron is worn",
        "The gown came off at 0:21, before the gloves at 0:44: gloved hands carry what is on them to the inside",
        "Contamination: face from gloves",
        "We practised the order once more together.",
        "Lift the face shield off by its band, from the back.",
        "Left out, optional",
        "at most 2 other findings",
        "follow the facility’s exposure plan at once",
        "from memory: check against the current source before use",
        "When it happened",
        "Signed by",
        "25 November 2026, 10:12:40 (UTC+01:00)",
        "Observed and assessed by me",
        "Issued by the signing authority of Hilltop Hospital.",
        "so a print shows neither",
        data.as_str(),
        "The code holds the digest of the data, as printed above: it tells which file this sheet belongs to.",
        "page 1 of",
    ] {
        assert!(text.contains(said), "{said:?} must stand in: {text}");
    }
}

fn digest_of(record: &evidence::Record) -> String {
    evidence::digest(&record.to_bytes().unwrap()).to_string()
}

#[test]
fn critical_findings_come_first_and_the_outcome_is_said_large() {
    let text = text_of(&pdf_of(&faultless()).unwrap());
    assert!(text.contains("Competent Valid through 25 November 2027"), "{text}");
    assert!(text.contains("There are no findings."), "{text}");
    let text = text_of(&pdf_of(&record()).unwrap());
    let place = |said| text.find(said).unwrap();
    assert!(place("The face was touched") < place("The face shield was not taken off"));
}

#[test]
fn the_attachment_is_the_data_and_nothing_else() {
    let record = record();
    let document = Document::load_mem(&pdf_of(&record).unwrap()).unwrap();
    let attached: Vec<_> = document
        .objects
        .values()
        .filter_map(|object| object.as_stream().ok())
        .filter(|stream| {
            stream.dict.get(b"Type").and_then(Object::as_name).is_ok_and(|t| t == b"EmbeddedFile")
        })
        .map(|stream| stream.get_plain_content().unwrap())
        .collect();
    assert_eq!(attached, [record.to_bytes().unwrap()]);
}

#[test]
fn every_piece_on_a_page_is_in_the_structure_or_decoration() {
    let document = Document::load_mem(&pdf_of(&record()).unwrap()).unwrap();
    for page in document.page_iter() {
        let content = document.get_and_decode_page_content(page).unwrap();
        let mut depth = 0;
        for operation in content.operations {
            match operation.operator.as_str() {
                "BDC" | "BMC" => {
                    depth += 1;
                    assert_eq!(depth, 1, "pieces do not nest");
                }
                "EMC" => depth -= 1,
                "TJ" | "Tj" | "S" | "f" | "B" => assert_eq!(depth, 1, "{operation:?} must be in a piece"),
                _ => {}
            }
        }
        assert_eq!(depth, 0, "every piece ends");
    }
}

#[test]
fn a_short_record_stays_small() {
    let mut record = faultless();
    record.person.name = "Anna Smith".to_owned();
    record.observer.name = "Olga Server".to_owned();
    record.assistant = None;
    let size = pdf_of(&record).unwrap().len();
    assert!(size <= 60 * 1024, "{size} bytes");
}

#[test]
fn a_long_record_goes_on_over_pages() {
    let mut record = record();
    record.remark = "A long remark. ".repeat(900);
    let document = Document::load_mem(&pdf_of(&record).unwrap()).unwrap();
    let pages = document.get_pages().len();
    assert!(pages >= 5, "{pages} pages");
    let text = document.extract_text(&[u32::try_from(pages).unwrap()]).unwrap();
    assert!(text.contains(&format!("page {pages} of {pages}")), "{text}");
}

#[test]
fn every_outcome_and_purpose_says_what_it_means() {
    use competency::{report::Outcome, validity::Purpose};
    for (purpose, outcome, said) in [
        (Purpose::Practice, Outcome::Competent, "Practice grants no validity"),
        (Purpose::LiveCare, Outcome::NotYetCompetent, "Live care grants no validity"),
        (Purpose::Validation, Outcome::NotAssessed, "It changes no validity"),
        (Purpose::Validation, Outcome::Competent, "the procedure does not accept this mode"),
    ] {
        let mut record = record();
        (record.purpose, record.report.outcome) = (purpose, outcome);
        let text = text_of(&pdf_of(&record).unwrap());
        assert!(text.contains(said), "{said:?} must stand in: {text}");
    }
}

#[test]
fn a_finding_gives_its_reason_once() {
    let text = text_of(&pdf_of(&record()).unwrap()).to_lowercase();
    let reason = "gloved hands carry what is on them to the inside of the gown";
    assert_eq!(text.matches(reason).count(), 1, "{text}");
}

#[test]
fn the_page_has_a_time_line_where_times_are_known() {
    let drawn = pdf_of(&record()).unwrap();
    let document = Document::load_mem(&drawn).unwrap();
    let said = document.objects.values().filter_map(|object| object.as_dict().ok()?.get(b"Alt").ok());
    let said: Vec<String> = said.filter_map(|alt| lopdf::decode_text_string(alt).ok()).collect();
    assert!(said.iter().any(|said| said.starts_with("When it happened. ")), "{said:?}");
    let mut from_paper = record();
    from_paper.log.transcribed = true;
    let text = text_of(&pdf_of(&from_paper).unwrap());
    assert!(!text.contains("When it happened"), "a paper form has no clock: {text}");
    assert!(text.contains("Times are those written on the paper form."), "{text}");
    assert!(!text.contains("since the beginning"), "when it was typed is no beginning: {text}");
}

#[test]
fn a_note_of_the_order_is_written_alike_on_both_sides() {
    let text = text_of(&pdf_of(&record()).unwrap());
    assert!(text.contains("missed") && text.contains("out of order"), "{text}");
}
