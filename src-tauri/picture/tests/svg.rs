//! SVG is read back with an XML parser of its own, `roxmltree`.

use picture::{
    Anchor, Drawing, Lettering, Point, Role, Shape, State, Weight, fit, state_mark, svg, typical_width, wrap,
};
use proptest::prelude::*;

fn words(text: &str) -> Drawing {
    Drawing {
        width: 100.0,
        height: 20.5,
        title: format!("Title {text}"),
        description: format!("Description {text}"),
        shapes: vec![Shape::Text {
            at: Point { x: 1.0, y: -0.001 },
            anchor: Anchor::Start,
            size: 14.0,
            weight: Weight::Regular,
            role: Role::Ink,
            text: text.to_owned(),
        }],
    }
}

#[test]
fn text_survives_whatever_it_contains() {
    for text in ["<script>&\"'</script>", "مرحبا <b> שלום", "日本語", "a&amp;b", "Ünïcode ½ ≥ 20 s"]
    {
        let out = svg(&words(text), "graph");
        let document = roxmltree::Document::parse(&out).unwrap_or_else(|e| panic!("{text}: {e} in {out}"));
        let said = |tag: &str| {
            document
                .descendants()
                .find(|n| n.has_tag_name(("http://www.w3.org/2000/svg", tag)))
                .unwrap()
                .text()
        };
        assert_eq!(said("text"), Some(text));
        assert_eq!(said("title"), Some(format!("Title {text}").as_str()));
        assert_eq!(said("desc"), Some(format!("Description {text}").as_str()));
    }
}

#[test]
fn a_control_character_cannot_break_the_image() {
    let out = svg(&words("a\u{1}b\0c\nd"), "x");
    assert!(roxmltree::Document::parse(&out).is_ok(), "{out}");
    assert!(out.contains("a\u{fffd}b\u{fffd}c d"), "{out}");
}

#[test]
fn a_screen_reader_finds_title_and_description_by_id() {
    let out = svg(&words("x"), "order \"1\"");
    let document = roxmltree::Document::parse(&out).unwrap();
    let root = document.root_element();
    assert_eq!(root.attribute("role"), Some("img"));
    for (attribute, tag) in [("aria-labelledby", "title"), ("aria-describedby", "desc")] {
        let id = root.attribute(attribute).expect(attribute);
        let linked = root.descendants().find(|n| n.attribute("id") == Some(id)).expect("the linked element");
        assert_eq!(linked.tag_name().name(), tag);
    }
}

#[test]
fn a_mark_beside_its_word_is_hidden_from_screen_readers() {
    for state in State::ALL {
        let out = svg(&state_mark(state, 24.0), "unused");
        assert!(out.contains("aria-hidden=\"true\"") && !out.contains("unused"), "{out}");
    }
}

#[test]
fn states_are_told_apart_without_colour() {
    let shapes: Vec<String> = State::ALL
        .iter()
        .map(|state| {
            let mut out = svg(&state_mark(*state, 24.0), "x");
            for role in Role::ALL {
                out = out.replace(&format!("-{}\"", role.name()), "\"");
            }
            out
        })
        .collect();
    for (i, one) in shapes.iter().enumerate() {
        assert!(!shapes[..i].contains(one), "{:?} looks like another state", State::ALL[i]);
    }
}

/// A strict Content-Security-Policy refuses inline style and script (CSP level 3, `style-src 'self'`; from
/// memory); presentation attributes are not style.
#[test]
fn nothing_that_a_strict_policy_refuses() {
    for state in State::ALL {
        let out = svg(&state_mark(state, 24.0), "x");
        for refused in ["style", "<script", "href", "onload", "url("] {
            assert!(!out.contains(refused), "{refused} in {out}");
        }
        assert!(!out.contains("-0\"") && !out.contains("NaN") && !out.contains("inf"), "{out}");
    }
}

#[test]
fn a_line_that_does_not_fit_ends_in_an_ellipsis() {
    let measure = Lettering::PLAIN.measure;
    assert_eq!(fit("Gloves off", 200.0, 14.0, Weight::Regular, measure), "Gloves off");
    let short = fit("Gloves off, inside out, into the bin", 120.0, 14.0, Weight::Regular, measure);
    assert!(short.starts_with("Gloves off") && short.ends_with('…'), "{short}");
    assert_eq!(
        wrap("Gown and gloves off in one movement", 130.0, 2, 14.0, Weight::Regular, measure),
        ["Gown and gloves", "off in one move…"]
    );
    assert_eq!(wrap("", 130.0, 2, 14.0, Weight::Regular, measure), Vec::<String>::new());
    assert_eq!(wrap("Gown off", 130.0, 2, 14.0, Weight::Regular, measure), ["Gown off"]);
}

proptest! {
    #[test]
    fn no_line_is_wider_than_its_box_and_no_word_is_lost(
        text in "[a-zA-Zäß&<é日 \u{5d0}-\u{5ea}]{0,80}", width in 40.0..400.0_f64, lines in 1_usize..5,
    ) {
        let got = wrap(&text, width, lines, 14.0, Weight::Bold, &typical_width);
        prop_assert!(got.len() <= lines);
        for line in &got {
            prop_assert!(typical_width(line, 14.0, Weight::Bold) <= width, "{line:?} in {width}");
        }
        let bare = |s: &str| s.split_whitespace().collect::<String>();
        let joined = got.iter().map(|line| bare(line)).collect::<String>();
        if let Some(beginning) = joined.strip_suffix('…') {
            prop_assert!(bare(&text).starts_with(beginning));
        } else {
            prop_assert_eq!(joined, bare(&text));
        }
    }
}
