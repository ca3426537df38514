//! XML from strangers: no document types, no entities but the five of XML, a bound on depth; names without namespaces.
//!
//! Nothing is expanded and nothing is fetched, so a hostile file costs no more than its own length.

use super::{Source, Unreadable, text_of};
use quick_xml::Reader;
use quick_xml::XmlVersion;
use quick_xml::events::{BytesStart, Event};
use std::borrow::Cow;

/// How deep elements may stand in each other; maps need five, extensions of devices a few more.
const DEEPEST: usize = 64;

/// What a reader of a format does with the elements.
pub trait Visit {
    /// An element begins; `depth` is 1 for the root.
    fn open(&mut self, name: &str, attributes: &Attributes<'_>, depth: usize);
    /// The text of an element that holds nothing else, blanks around it gone.
    fn text(&mut self, name: &str, text: &str, depth: usize);
    /// An element ends.
    fn close(&mut self, name: &str, depth: usize);
}

/// The attributes of an element.
pub struct Attributes<'a>(Vec<(&'a str, Cow<'a, str>)>);

impl Attributes<'_> {
    /// The value of an attribute.
    pub fn get(&self, name: &str) -> Option<&str> {
        self.0.iter().find(|(key, _)| *key == name).map(|(_, value)| value.as_ref())
    }
}

/// The name of the root element.
///
/// # Errors
/// [`Unreadable`] for a document type or broken XML before it.
pub fn root_of(source: Source<'_>) -> Result<String, Unreadable> {
    let text = text_of(source)?;
    let mut reader = Reader::from_str(text);
    loop {
        match reader.read_event() {
            Ok(Event::Start(start) | Event::Empty(start)) => return Ok(start.local_name().as_ref().to_owned()),
            Ok(Event::DocType(_)) => return Err(doctype(source)),
            Ok(Event::Eof) => {
                return Err(Unreadable::new(source.name, "there is no element in this XML", "export it again"));
            }
            Ok(_) => {}
            Err(error) => return Err(broken(source, position(reader.error_position()), &error.to_string())),
        }
    }
}

/// Reads a whole file.
///
/// # Errors
/// [`Unreadable`] with line and column for a document type, broken XML or elements that stand too deep.
pub fn read(source: Source<'_>, visit: &mut dyn Visit) -> Result<(), Unreadable> {
    let text = text_of(source)?;
    let mut reader = Reader::from_str(text);
    let mut open: Vec<String> = Vec::new();
    let mut words = String::new();
    loop {
        match reader.read_event() {
            Ok(Event::Start(start)) => {
                if open.len() >= DEEPEST {
                    let what = format!("elements stand more than {DEEPEST} deep in each other");
                    return Err(Unreadable::at(source, position(reader.buffer_position()), what, "export it again"));
                }
                let name = start.local_name().as_ref().to_owned();
                visit.open(&name, &attributes(&start), open.len() + 1);
                open.push(name);
                words.clear();
            }
            Ok(Event::Empty(start)) => {
                let name = start.local_name();
                visit.open(name.as_ref(), &attributes(&start), open.len() + 1);
                visit.close(name.as_ref(), open.len() + 1);
            }
            Ok(Event::Text(text)) => words.push_str(&text.into_inner()),
            Ok(Event::CData(text)) => words.push_str(&text.into_inner()),
            Ok(Event::GeneralRef(reference)) => match reference.resolve_char_ref() {
                Ok(Some(c)) => words.push(c),
                _ => words.push_str(match reference.into_inner().as_ref() {
                    "amp" => "&",
                    "lt" => "<",
                    "gt" => ">",
                    "quot" => "\"",
                    "apos" => "'",
                    // Any other entity would need a document type, and those are refused.
                    _ => "\u{fffd}",
                }),
            },
            Ok(Event::End(_)) => {
                if let Some(name) = open.pop() {
                    if !words.trim().is_empty() {
                        visit.text(&name, words.trim(), open.len() + 1);
                    }
                    words.clear();
                    visit.close(&name, open.len() + 1);
                }
            }
            Ok(Event::DocType(_)) => return Err(doctype(source)),
            Ok(Event::Eof) if open.is_empty() => return Ok(()),
            Ok(Event::Eof) => {
                let what = format!("the file ends inside <{}>: it was cut off", open.last().map_or("", String::as_str));
                return Err(Unreadable::at(source, source.bytes.len(), what, "download or export it again"));
            }
            Ok(Event::Comment(_) | Event::Decl(_) | Event::PI(_)) => {}
            Err(error) => return Err(broken(source, position(reader.error_position()), &error.to_string())),
        }
    }
}

fn attributes<'a>(start: &'a BytesStart<'_>) -> Attributes<'a> {
    let mut all = start.attributes();
    let read = all.with_checks(false).filter_map(|attribute| {
        let attribute = attribute.ok()?;
        let value = attribute.normalized_value(XmlVersion::Implicit1_0).ok()?;
        Some((attribute.key.into_inner(), Cow::Owned(value.into_owned())))
    });
    Attributes(read.collect::<Vec<_>>())
}

fn position(at: u64) -> usize {
    usize::try_from(at).unwrap_or(usize::MAX)
}

fn doctype(source: Source<'_>) -> Unreadable {
    let name = b"<!doctype";
    let at = source.bytes.windows(name.len()).position(|window| window.eq_ignore_ascii_case(name));
    Unreadable::at(
        source,
        at.unwrap_or(0),
        "the file has a document type (<!DOCTYPE …>), and maps have none",
        "export it again, or take the <!DOCTYPE …> out if you trust the file",
    )
}

fn broken(source: Source<'_>, at: usize, what: &str) -> Unreadable {
    Unreadable::at(source, at, format!("this is broken XML: {what}"), "download or export it again")
}
