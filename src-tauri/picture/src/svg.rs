use std::fmt::Write;

use crate::{Anchor, Dash, Drawing, Paint, Pen, Point, Role, Shape, Weight};

/// A drawing as SVG that a strict Content-Security-Policy lets through: no style element or attribute,
/// no script, no link.
///
/// Colours come from the page's style sheet by class: `pic-fill-<role>` and `pic-line-<role>`, with the
/// names of [`Role::name`]; the root has the class `picture`. `id` must be unique on the page: the title
/// and the description are linked to the image by ids made from it. A drawing without a title is hidden
/// from screen readers, since its words stand beside it.
pub fn svg(drawing: &Drawing, id: &str) -> String {
    let mut out = String::with_capacity(256 + drawing.shapes.len() * 96);
    let (width, height, id) = (number(drawing.width), number(drawing.height), escaped(id));
    write(
        &mut out,
        format_args!(
            "<svg xmlns=\"http://www.w3.org/2000/svg\" class=\"picture\" viewBox=\"0 0 {width} {height}\" \
             width=\"{width}\" height=\"{height}\""
        ),
    );
    if drawing.title.is_empty() {
        write(&mut out, format_args!(" aria-hidden=\"true\">"));
    } else {
        let (title, description) = (escaped(&drawing.title), escaped(&drawing.description));
        write(
            &mut out,
            format_args!(
                " role=\"img\" aria-labelledby=\"{id}-title\" aria-describedby=\"{id}-desc\">\
                 <title id=\"{id}-title\">{title}</title><desc id=\"{id}-desc\">{description}</desc>"
            ),
        );
    }
    for shape in &drawing.shapes {
        one(&mut out, shape);
    }
    out.push_str("</svg>");
    out
}

fn one(out: &mut String, shape: &Shape) {
    match shape {
        Shape::Rect { at, width, height, radius, paint } => write(
            out,
            format_args!(
                "<rect x=\"{}\" y=\"{}\" width=\"{}\" height=\"{}\" rx=\"{}\"{}/>",
                number(at.x),
                number(at.y),
                number(*width),
                number(*height),
                number(*radius),
                painted(paint)
            ),
        ),
        Shape::Line { from, to, pen } => write(
            out,
            format_args!(
                "<line x1=\"{}\" y1=\"{}\" x2=\"{}\" y2=\"{}\"{}/>",
                number(from.x),
                number(from.y),
                number(to.x),
                number(to.y),
                painted(&Paint::line(*pen))
            ),
        ),
        Shape::Polyline { points, closed, paint } => {
            let name = if *closed { "polygon" } else { "polyline" };
            let points = points.iter().map(pair).collect::<Vec<_>>().join(" ");
            write(out, format_args!("<{name} points=\"{points}\"{}/>", painted(paint)));
        }
        Shape::Path { start, curves, closed, paint } => {
            let mut path = format!("M{}", pair(start));
            for [first, second, end] in curves {
                write(&mut path, format_args!(" C{} {} {}", pair(first), pair(second), pair(end)));
            }
            if *closed {
                path.push('Z');
            }
            write(out, format_args!("<path d=\"{path}\"{}/>", painted(paint)));
        }
        Shape::Circle { centre, radius, paint } => write(
            out,
            format_args!(
                "<circle cx=\"{}\" cy=\"{}\" r=\"{}\"{}/>",
                number(centre.x),
                number(centre.y),
                number(*radius),
                painted(paint)
            ),
        ),
        Shape::Text { at, anchor, size, weight, role, text } => {
            let anchor = match anchor {
                Anchor::Start => "start",
                Anchor::Middle => "middle",
                Anchor::End => "end",
            };
            let weight = match weight {
                Weight::Regular => "400",
                Weight::Bold => "700",
            };
            write(
                out,
                format_args!(
                    "<text x=\"{}\" y=\"{}\" text-anchor=\"{anchor}\" font-size=\"{}\" \
                     font-weight=\"{weight}\" class=\"pic-fill-{}\">{}</text>",
                    number(at.x),
                    number(at.y),
                    number(*size),
                    role.name(),
                    escaped(text)
                ),
            );
        }
    }
}

/// The attributes of a paint. `fill="none"` and `stroke` widths are presentation attributes, not style.
fn painted(paint: &Paint) -> String {
    let line = paint.line.map(|pen| class("line", pen.role));
    let fill = paint.fill.map(|role| class("fill", role));
    let classes = fill.iter().chain(&line).cloned().collect::<Vec<_>>().join(" ");
    let mut out = if classes.is_empty() { String::new() } else { format!(" class=\"{classes}\"") };
    if paint.fill.is_none() {
        out.push_str(" fill=\"none\"");
    }
    if let Some(Pen { width, dash, .. }) = paint.line {
        write(&mut out, format_args!(" stroke-width=\"{}\"", number(width)));
        match dash {
            Dash::Solid => {}
            Dash::Dashed => write(
                &mut out,
                format_args!(" stroke-dasharray=\"{} {}\"", number(Dash::ON), number(Dash::OFF)),
            ),
        }
    }
    out
}

fn class(kind: &str, role: Role) -> String {
    format!("pic-{kind}-{}", role.name())
}

fn pair(point: &Point) -> String {
    format!("{},{}", number(point.x), number(point.y))
}

/// A length to a hundredth of a point; without trailing zeros, and never `-0`.
fn number(value: f64) -> String {
    let text = format!("{value:.2}");
    let text = text.trim_end_matches('0').trim_end_matches('.');
    if text == "-0" { String::from("0") } else { text.to_owned() }
}

/// Text for an element or a quoted attribute. Characters that XML 1.0 forbids (section 2.2, from memory)
/// become the replacement character, so that a stray control character cannot break the image.
fn escaped(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for c in text.chars() {
        match c {
            '&' => out.push_str("&amp;"),
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '"' => out.push_str("&quot;"),
            '\'' => out.push_str("&#39;"),
            '\t' | '\n' | '\r' => out.push(' '),
            '\0'..='\u{1f}' | '\u{fffe}' | '\u{ffff}' => out.push('\u{fffd}'),
            c => out.push(c),
        }
    }
    out
}

/// Appends to a string, which cannot fail.
#[expect(clippy::expect_used, reason = "writing to a String never returns an error")]
fn write(out: &mut String, what: std::fmt::Arguments<'_>) {
    out.write_fmt(what).expect("writing to a String");
}
