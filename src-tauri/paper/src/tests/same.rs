use lopdf::{Object, Stream, dictionary};

use super::{sample::*, *};
use crate::{SamePage, same_page};

#[test]
fn a_record_is_the_same_as_itself() {
    for record in [record(), faultless()] {
        let pdf = pdf_of(&record).unwrap();
        assert_eq!(same_page(&pdf, &record, signed()).unwrap(), SamePage::Same);
    }
}

#[test]
fn another_word_on_the_page_is_found() {
    let claimed = faultless();
    let pdf = pdf_of(&claimed).unwrap();
    let mut attached = claimed.clone();
    attached.person.number = "1043".to_owned();
    assert_eq!(same_page(&pdf, &attached, signed()).unwrap(), SamePage::Different);
    assert_eq!(same_page(&pdf, &record(), signed()).unwrap(), SamePage::Different);
}

#[test]
fn a_page_packed_otherwise_is_the_same_page() {
    let unpacked = changed(Document::decompress);
    assert!(unpacked.len() > pdf_of(&record()).unwrap().len());
    assert_eq!(same_page(&unpacked, &record(), signed()).unwrap(), SamePage::Same);
}

fn changed(change: impl Fn(&mut Document)) -> Vec<u8> {
    let mut document = Document::load_mem(&pdf_of(&record()).unwrap()).unwrap();
    change(&mut document);
    let mut bytes = Vec::new();
    document.save_to(&mut bytes).unwrap();
    bytes
}

#[test]
fn pages_changed_by_hand_are_found() {
    let more = changed(|document| {
        let page = document.page_iter().next().unwrap();
        document.add_page_contents(page, b"0 0 100 100 re f".to_vec()).unwrap();
    });
    assert_eq!(same_page(&more, &record(), signed()).unwrap(), SamePage::Different);
    let fewer = changed(|document| document.delete_pages(&[1]));
    assert_eq!(same_page(&fewer, &record(), signed()).unwrap(), SamePage::Different);
    let note = changed(|document| {
        let page = document.page_iter().next().unwrap();
        let note = dictionary! {
            "Type" => "Annot", "Subtype" => "FreeText", "Rect" => vec![0.into(), 0.into(), 90.into(), 90.into()],
        };
        let note = document.add_object(note);
        document.get_dictionary_mut(page).unwrap().set("Annots", vec![note.into()]);
    });
    assert_eq!(same_page(&note, &record(), signed()).unwrap(), SamePage::Different);
    let font = changed(|document| {
        let programs: Vec<_> = document
            .objects
            .iter()
            .filter(|(_, object)| object.as_stream().is_ok_and(|stream| stream.dict.has(b"Length1")))
            .map(|(id, _)| *id)
            .collect();
        assert!(!programs.is_empty(), "the fonts must be found for the test to mean something");
        for id in programs {
            document.set_object(id, Stream::new(dictionary! {}, b"another font".to_vec()));
        }
    });
    assert_eq!(same_page(&font, &record(), signed()).unwrap(), SamePage::Different);
}

/// What no page shows, and a reader still comes upon: read aloud, turned about, or done when the file is opened.
#[test]
fn what_lies_beside_the_pages_is_compared_too() {
    type Change = fn(&mut Document);
    let changes: [(&str, Change); 5] = [
        ("said aloud in place of the page", |document| {
            let is_top = |object: &Object| {
                object
                    .as_dict()
                    .is_ok_and(|one| one.get(b"S").is_ok_and(|kind| *kind == Object::from("Document")))
            };
            let top = document.objects.iter().find(|(_, object)| is_top(object)).map(|(id, _)| *id).unwrap();
            let said = lopdf::text_string("Competent. Valid through 26 November 2030");
            document.get_dictionary_mut(top).unwrap().set("ActualText", said);
        }),
        ("turned upside down", |document| {
            let pages = document.catalog().unwrap().get(b"Pages").unwrap().as_reference().unwrap();
            document.get_dictionary_mut(pages).unwrap().set("Rotate", 180);
        }),
        ("done when it is opened", |document| {
            let action = dictionary! { "S" => "JavaScript", "JS" => Object::string_literal("app.alert(1)") };
            document.catalog_mut().unwrap().set("OpenAction", action);
        }),
        ("another language", |document| {
            document.catalog_mut().unwrap().set("Lang", Object::string_literal("de"));
        }),
        ("other metadata", |document| {
            let metadata = document.catalog().unwrap().get(b"Metadata").unwrap().as_reference().unwrap();
            document.set_object(metadata, Stream::new(dictionary! {}, b"<x/>".to_vec()));
        }),
    ];
    for (what, change) in changes {
        let pdf = changed(change);
        assert_eq!(same_page(&pdf, &record(), signed()).unwrap(), SamePage::Different, "{what}");
    }
}

#[test]
fn an_unknown_layout_is_not_called_changed() {
    let other = changed(|document| {
        let information = document.trailer.get(b"Info").unwrap().as_reference().unwrap();
        let information = document.get_dictionary_mut(information).unwrap();
        information.set("Creator", lopdf::text_string("Competency record, layout 9"));
    });
    assert_eq!(same_page(&other, &record(), signed()).unwrap(), SamePage::OtherLayout);
    assert_eq!(same_page(b"no pdf", &record(), signed()).unwrap(), SamePage::Different);
}

#[test]
fn a_page_that_was_drawn_for_another_moment_is_found() {
    let other = changed(|document| {
        let information = document.trailer.get(b"Info").unwrap().as_reference().unwrap();
        let information = document.get_dictionary_mut(information).unwrap();
        information.set("CreationDate", Object::string_literal("D:20261125101241+01'00'"));
    });
    assert_eq!(same_page(&other, &record(), signed()).unwrap(), SamePage::Different);
    // The signature says another moment than the page.
    let later = signed() + chrono::TimeDelta::seconds(1);
    assert_eq!(same_page(&pdf_of(&record()).unwrap(), &record(), later).unwrap(), SamePage::Different);
}
