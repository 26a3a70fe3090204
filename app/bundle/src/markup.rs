//! As much of HTML as the policy needs: tags with their attributes, and what inline scripts say.
//!
//! It reads the one page this project writes, not any page: no entities, no unclosed quotes.

/// A start tag.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Tag<'a> {
    /// Its name in lower case.
    pub name: String,
    /// Names in lower case, and values without their quotes.
    pub attributes: Vec<(String, &'a str)>,
    /// What stands between a script's or a style's tags, exactly; empty for all other tags.
    pub text: &'a str,
    /// The place in the page of its `<`.
    pub start: usize,
    /// Where the tag ends: the place in the page after its `>`.
    pub end: usize,
}

impl Tag<'_> {
    /// Whether the tag has an attribute of this name.
    pub fn has(&self, name: &str) -> bool {
        self.attributes.iter().any(|(attribute, _)| attribute == name)
    }
}

/// The start tags of `page`, in order.
pub fn tags(page: &str) -> Vec<Tag<'_>> {
    let mut found = Vec::new();
    let mut at = 0;
    while let Some(step) = page[at..].find('<') {
        let start = at + step;
        let rest = &page[start..];
        if rest.starts_with("<!--") {
            at = rest.find("-->").map_or(page.len(), |end| start + end + 3);
        } else if rest[1..].starts_with(|first: char| first.is_ascii_alphabetic()) {
            let tag = read_tag(page, start);
            at = tag.end + tag.text.len();
            found.push(tag);
        } else {
            at = start + 1;
        }
    }
    found
}

fn read_tag(page: &str, start: usize) -> Tag<'_> {
    let inside = start + 1;
    let end = end_of_tag(page, inside);
    let body = page[inside..end].trim_end_matches('>').trim_end_matches('/');
    let (name, rest) = body.split_at(body.find(char::is_whitespace).unwrap_or(body.len()));
    let name = name.to_ascii_lowercase();
    let text = raw_text(&name, &page[end..]);
    Tag { name, attributes: attributes(rest), text, start, end }
}

/// The place after the `>` that closes the tag; one inside quotes does not.
fn end_of_tag(page: &str, inside: usize) -> usize {
    let mut quote = None;
    for (step, letter) in page[inside..].char_indices() {
        match (quote, letter) {
            (None, '>') => return inside + step + 1,
            (None, '"' | '\'') => quote = Some(letter),
            (Some(open), _) if open == letter => quote = None,
            _ => (),
        }
    }
    page.len()
}

/// Scripts and styles hold text in which `<` opens no tag.
fn raw_text<'a>(name: &str, rest: &'a str) -> &'a str {
    if name != "script" && name != "style" {
        return "";
    }
    let closing = format!("</{name}");
    // Lower-casing ASCII keeps every place where it was.
    &rest[..rest.to_ascii_lowercase().find(&closing).unwrap_or(rest.len())]
}

fn attributes(mut rest: &str) -> Vec<(String, &str)> {
    let mut found = Vec::new();
    loop {
        rest = rest.trim_start();
        if rest.is_empty() {
            return found;
        }
        let ends = |letter: char| letter == '=' || letter.is_whitespace();
        let (name, after) = rest.split_at(rest.find(ends).unwrap_or(rest.len()));
        let (value, after) = match after.trim_start().strip_prefix('=') {
            Some(value) => split_value(value.trim_start()),
            None => ("", after),
        };
        found.push((name.to_ascii_lowercase(), value));
        rest = after;
    }
}

fn split_value(text: &str) -> (&str, &str) {
    for quote in ['"', '\''] {
        if let Some(quoted) = text.strip_prefix(quote) {
            return quoted.split_once(quote).unwrap_or((quoted, ""));
        }
    }
    text.split_at(text.find(char::is_whitespace).unwrap_or(text.len()))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn attributes_are_read_with_and_without_quotes() {
        check(
            r#"<link rel="icon" HREF='./a.svg' crossorigin sizes=any />"#,
            &[("rel", "icon"), ("href", "./a.svg"), ("crossorigin", ""), ("sizes", "any")],
        );
        check("<p>", &[]);
        check("<p\n  class = \"note\"\n>", &[("class", "note")]);
    }

    #[test]
    fn a_bracket_inside_quotes_does_not_close_the_tag() {
        check(r#"<meta content="1 > 0" name="n">"#, &[("content", "1 > 0"), ("name", "n")]);
    }

    #[test]
    fn what_a_script_says_is_kept_to_the_letter_and_opens_no_tag() {
        let page = "<script>\n if (a <b) { c() } \n</SCRIPT><p>";
        let found = tags(page);

        assert_eq!(found[0].text, "\n if (a <b) { c() } \n");
        assert_eq!(names(page), ["script", "p"]);
    }

    #[test]
    fn comments_and_closing_tags_are_no_start_tags() {
        assert_eq!(names("<!doctype html><!-- <b style='x'> --><i></i>1 < 2"), ["i"]);
    }

    #[track_caller]
    fn check(page: &str, expected: &[(&str, &str)]) {
        let found = tags(page);
        let read: Vec<(&str, &str)> =
            found[0].attributes.iter().map(|(name, value)| (name.as_str(), *value)).collect();
        assert_eq!(read, expected);
    }

    fn names(page: &str) -> Vec<String> {
        tags(page).into_iter().map(|tag| tag.name).collect()
    }
}
