//! One page that holds everything: no script, no network, readable on a phone, on paper and to a screen reader.

use super::super::draw::{self, Bracket};
use super::super::{Competition, Totals};
use super::{FOOT, Table, award_lines, dates, tables};
use crate::units::plain_text::plain;

const STYLE: &str = "\
:root{color-scheme:light dark}\
body{font:1rem/1.45 system-ui,sans-serif;margin:0 auto;max-width:60rem;padding:1rem}\
h1{font-size:1.6rem;margin:0}h2{font-size:1.2rem;margin:2rem 0 0}\
p{margin:.2rem 0 .6rem}.not-final{border:2px solid;padding:.4rem .6rem;font-weight:600}\
nav ul{padding:0;list-style:none;display:flex;flex-wrap:wrap;gap:.3rem 1rem}\
.wide{overflow-x:auto}\
table{border-collapse:collapse;width:100%;font-variant-numeric:tabular-nums}\
caption{text-align:left;padding:.3rem 0}\
th,td{text-align:left;padding:.25rem .5rem;border-bottom:1px solid #8886;vertical-align:top}\
thead th{border-bottom:2px solid}.n{text-align:right}\
tbody th{font-weight:600}.s{font-size:.85rem}\
@media(max-width:34rem){body{padding:.6rem}th,td{padding:.25rem .3rem}.s{font-size:.75rem;min-width:4.5rem}h1{font-size:1.35rem}}\
@media print{:root{color-scheme:light}body{max-width:none;padding:0;font-size:10pt}nav{display:none}\
h2{break-after:avoid}tr{break-inside:avoid}thead{display:table-header-group}.wide{overflow:visible}}";

/// The page.
pub fn html(competition: &Competition, totals: &Totals<'_>) -> String {
    let setup = &competition.setup;
    let name = escaped(&setup.name);
    let course = escaped(&competition.course.name);
    let dates = dates(competition);
    let mut out = format!(
        "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n\
         <meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n\
         <meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; style-src 'unsafe-inline'\">\n\
         <meta name=\"robots\" content=\"noindex\">\n\
         <title>{name}, results</title>\n<style>{STYLE}</style>\n</head>\n<body>\n<header>\n<h1>{name}</h1>\n\
         <p>{course}, {dates}</p>\n"
    );
    if !totals.is_final() {
        out.push_str("<p class=\"not-final\">Not final: cards or decisions are missing.</p>\n");
    }
    let tables = tables(competition, totals);
    if tables.len() > 1 {
        out.push_str("<nav aria-label=\"Events\"><ul>\n");
        for (at, table) in tables.iter().enumerate() {
            out.push_str(&format!("<li><a href=\"#e{at}\">{}</a></li>\n", escaped(&table.title)));
        }
        out.push_str("</ul></nav>\n");
    }
    out.push_str("</header>\n<main>\n");
    for (at, table) in tables.iter().enumerate() {
        push(&mut out, at, table);
    }
    let awards = award_lines(competition, totals);
    if !awards.is_empty() {
        out.push_str("<section>\n<h2>Other prizes</h2>\n<ul>\n");
        for award in awards {
            out.push_str(&format!("<li>{}</li>\n", escaped(&award)));
        }
        out.push_str("</ul>\n</section>\n");
    }
    for bracket in &totals.brackets {
        bracket_of(&mut out, bracket);
    }
    out.push_str(&format!("</main>\n<footer><p class=\"s\">{FOOT}</p></footer>\n</body>\n</html>\n"));
    out
}

/// A draw: a list of matches for each round.
fn bracket_of(out: &mut String, bracket: &Bracket) {
    out.push_str(&format!("<section>\n<h2>{}</h2>\n<p>{}</p>\n", escaped(&bracket.name), escaped(&bracket.terms)));
    let lines = draw::text(bracket);
    let mut open = false;
    for line in lines.iter().skip(1) {
        let text = escaped(line.trim());
        if line.starts_with(' ') {
            let class = if line.starts_with("     ") { " class=\"s\"" } else { "" };
            out.push_str(&format!("<li{class}>{text}</li>\n"));
            continue;
        }
        if open {
            out.push_str("</ul>\n");
        }
        open = !line.starts_with("Winner");
        let tag = if open { "h3" } else { "p" };
        out.push_str(&format!("<{tag}>{text}</{tag}>\n"));
        if open {
            out.push_str("<ul>\n");
        }
    }
    out.push_str(if open { "</ul>\n</section>\n" } else { "</section>\n" });
}

fn push(out: &mut String, at: usize, table: &Table) {
    out.push_str(&format!(
        "<section aria-labelledby=\"e{at}\">\n<h2 id=\"e{at}\">{}</h2>\n<div class=\"wide\" role=\"region\" \
         aria-labelledby=\"e{at}\" tabindex=\"0\">\n<table>\n<caption>{}</caption>\n<thead><tr>",
        escaped(&table.title),
        escaped(&table.terms)
    ));
    for (name, figure) in table.columns.iter().zip(&table.figures) {
        let short = if *name == "Playing Handicap" { "<abbr title=\"Playing Handicap\">PH</abbr>" } else { name };
        out.push_str(&format!("<th scope=\"col\"{}>{short}</th>", class(*figure, name)));
    }
    out.push_str("</tr></thead>\n<tbody>\n");
    for row in &table.rows {
        out.push_str("<tr>");
        for ((cell, name), figure) in row.iter().zip(&table.columns).zip(&table.figures) {
            let cell = escaped(cell);
            // The name is what a line is about, and a screen reader says it with each figure.
            out.push_str(&if *name == "Name" {
                format!("<th scope=\"row\">{cell}</th>")
            } else {
                format!("<td{}>{cell}</td>", class(*figure, name))
            });
        }
        out.push_str("</tr>\n");
    }
    out.push_str("</tbody>\n</table>\n</div>\n</section>\n");
}

fn class(figure: bool, name: &str) -> &'static str {
    match (figure, name) {
        (true, _) => " class=\"n\"",
        (_, "Settled by") => " class=\"s\"",
        _ => "",
    }
}

fn escaped(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for c in plain(text).chars() {
        match c {
            '&' => out.push_str("&amp;"),
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '"' => out.push_str("&quot;"),
            '\'' => out.push_str("&#39;"),
            _ => out.push(c),
        }
    }
    out
}
