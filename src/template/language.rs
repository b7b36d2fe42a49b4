//! What a template may say: the part of Tera that prints, asks and repeats, and does nothing else.
//!
//! In: the text of a template. Out: its [`Outline`], from which the work of filling it in can be reckoned beforehand,
//! or every place that says something else. Tera has no limit of its own to what a template may cost. So nothing here
//! grows a text (no joining, no captures), counts on (no ranges, no sums) or calls itself, and a loop runs over what
//! the sheet has: its cost is then known before it starts. Figures are printed as they come; no filter changes one.

use super::Place;

/// The most characters of a template: many times the longest built in.
pub(super) const MOST_CHARACTERS: usize = 1 << 15;

/// How deep loops and questions, and brackets within a tag, may stand within each other. Each `elif` counts like an `if`
/// within the one before. Tera goes as deep as a template does.
const MOST_DEEP: usize = 16;

/// The most signs and words of one tag.
const MOST_IN_A_TAG: usize = 64;

/// Filters: neither changes a figure.
const FILTERS: [&str; 2] = ["default", "length"];

/// Questions behind `is`.
const TESTS: [&str; 2] = ["defined", "undefined"];

/// The words that a tag may begin with.
const TAGS: [&str; 7] = ["if", "elif", "else", "endif", "for", "endfor", "include"];

/// What a template does, and where its lines can be told.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub(super) struct Outline {
    /// Its steps, in order.
    pub(super) steps: Vec<Step>,
    /// Bytes before which a mark of the line can stand and change nothing: where the line begins, and where text goes on
    /// behind a tag. None stands within a tag, nor beside white space that a tag takes away.
    pub(super) marks: Vec<usize>,
}

/// One step: each costs one, as often as the loops around it run.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) enum Step {
    /// A stretch of text, a value, a question.
    Plain,
    /// A loop begins: its variables, and the path of what it runs over.
    For(Vec<String>, Vec<String>),
    /// A loop ends.
    EndFor,
    /// Another template, by its name as written, and where that stands.
    Include(String, usize),
}

/// Something that a template may not say.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Refused {
    /// Where.
    pub(super) place: Place,
    /// What, and what may be said.
    pub(super) message: String,
    /// Whether nothing else may look at the template: it is too long or goes too deep.
    pub(super) stops: bool,
}

/// A sign or word within a tag, and where it begins.
#[derive(Debug, Clone, PartialEq, Eq)]
struct Token<'a> {
    kind: Kind<'a>,
    at: usize,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Kind<'a> {
    Word(&'a str),
    Text(&'a str),
    Sign(&'a str),
}

/// Reads a template that Tera can read as an outline.
pub(super) fn outline(text: &str) -> Result<Outline, Vec<Refused>> {
    if text.chars().count() > MOST_CHARACTERS {
        let message = format!("a template has no more than {MOST_CHARACTERS} characters");
        return Err(vec![Refused { place: Place::Whole, message, stops: true }]);
    }
    let mut reader = Reader { text, outline: Outline::default(), refused: Vec::new(), open: Vec::new() };
    reader.read();
    if reader.refused.is_empty() { Ok(reader.outline) } else { Err(reader.refused) }
}

/// Line and column, both from 1, of a byte in a text.
pub(super) fn position(text: &str, at: usize) -> (usize, usize) {
    positions(text, &[at]).first().copied().unwrap_or((1, 1))
}

/// The same of many bytes in rising order, in one go.
pub(super) fn positions(text: &str, bytes: &[usize]) -> Vec<(usize, usize)> {
    let (mut line, mut column, mut from) = (1, 1, 0);
    let on = |at: &usize| {
        for c in text.get(from..*at).unwrap_or_default().chars() {
            (line, column) = if c == '\n' { (line + 1, 1) } else { (line, column + 1) };
        }
        from = *at;
        (line, column)
    };
    bytes.iter().map(on).collect()
}

struct Reader<'a> {
    text: &'a str,
    outline: Outline,
    refused: Vec<Refused>,
    /// For each loop or question that is open, how deep it goes: one, and one for each `elif`.
    open: Vec<usize>,
}

impl<'a> Reader<'a> {
    fn read(&mut self) {
        let text = self.text;
        let mut at = 0;
        while let Some(opening) = next_opening(text, at) {
            self.literal(at, opening);
            let inside = opening + 2;
            if text.as_bytes().get(inside) != Some(&b'-') {
                self.mark_first(opening);
            }
            at = match text.as_bytes().get(opening + 1) {
                Some(b'#') => text[inside..].find("#}").map_or(text.len(), |end| inside + end + 2),
                Some(b'{') => {
                    let (tokens, end) = self.tokens(inside, "}}");
                    self.outline.steps.push(Step::Plain);
                    self.expression(&tokens);
                    end
                }
                _ => {
                    let (tokens, end) = self.tokens(inside, "%}");
                    self.tag(&tokens, opening);
                    end
                }
            };
        }
        self.literal(at, text.len());
    }

    /// A stretch of text between tags.
    fn literal(&mut self, from: usize, to: usize) {
        let Some(stretch) = self.text.get(from..to).filter(|stretch| !stretch.is_empty()) else { return };
        self.outline.steps.push(Step::Plain);
        let mut start = from;
        for line in stretch.split_inclusive('\n') {
            if let Some(first) = line.find(|c: char| !c.is_whitespace()) {
                self.outline.marks.push(start + first);
            }
            start += line.len();
        }
    }

    /// Notes a place for a mark before a tag, unless its line has one.
    fn mark_first(&mut self, at: usize) {
        let since = self.outline.marks.last().copied();
        if since.is_none_or(|last| self.text.get(last..at).is_some_and(|between| between.contains('\n'))) {
            self.outline.marks.push(at);
        }
    }

    fn refuse(&mut self, at: usize, message: impl Into<String>) {
        if self.refused.len() >= super::MOST_FAULTS {
            return;
        }
        let (line, column) = position(self.text, at);
        self.refused.push(Refused { place: Place::Template(line, column), message: message.into(), stops: false });
    }

    /// Refuses what would go too deep for whoever reads on.
    fn stop(&mut self, at: usize, message: impl Into<String>) {
        self.refuse(at, message);
        if let Some(last) = self.refused.last_mut() {
            last.stops = true;
        }
    }

    /// Notes what a tag opens or closes, and how deep that goes.
    fn nest(&mut self, word: &str, at: usize) {
        match word {
            "if" | "for" => self.open.push(1),
            "elif" => self.open.last_mut().into_iter().for_each(|deep| *deep += 1),
            "endif" | "endfor" => drop(self.open.pop()),
            _ => {}
        }
        if matches!(word, "if" | "for" | "elif") && self.open.iter().sum::<usize>() == MOST_DEEP + 1 {
            self.stop(at, format!("loops and questions stand no more than {MOST_DEEP} deep, each `elif` counted"));
        }
    }

    /// The tokens up to the closing sign, and where the text goes on behind it.
    fn tokens(&mut self, start: usize, closing: &str) -> (Vec<Token<'a>>, usize) {
        let text = self.text;
        let mut tokens = Vec::new();
        let mut at = start;
        while let Some(c) = text[at..].chars().next() {
            let rest = &text[at..];
            if rest.starts_with(closing) {
                return (tokens, at + closing.len());
            }
            // A hyphen at either end only trims what stands around the tag.
            let trims = c == '-' && (at == start || rest[1..].starts_with(closing));
            if c.is_whitespace() || trims {
                at += c.len_utf8();
                continue;
            }
            let (kind, length) = if matches!(c, '"' | '\'' | '`') {
                let Some(end) = rest[1..].find(c) else { break };
                let inner = &rest[1..=end];
                if inner.contains('\\') {
                    self.refuse(at, "a text in a template has no backslash");
                }
                (Kind::Text(inner), end + 2)
            } else if c.is_alphanumeric() || c == '_' {
                let end = rest.find(|c: char| !(c.is_alphanumeric() || c == '_')).unwrap_or(rest.len());
                (Kind::Word(&rest[..end]), end)
            } else if rest.starts_with("==") || rest.starts_with("!=") {
                (Kind::Sign(&rest[..2]), 2)
            } else {
                (Kind::Sign(&rest[..c.len_utf8()]), c.len_utf8())
            };
            tokens.push(Token { kind, at });
            if tokens.len() == MOST_IN_A_TAG + 1 {
                self.stop(at, format!("a tag has no more than {MOST_IN_A_TAG} words and signs"));
            }
            at += length;
        }
        // Tera has read the template, so every tag has its end; if not, nothing follows.
        (tokens, text.len())
    }

    fn tag(&mut self, tokens: &[Token<'a>], opening: usize) {
        let Some((Token { kind: Kind::Word(word), at }, rest)) = tokens.split_first() else {
            self.refuse(opening, format!("a tag begins with a word: {}", listed(&TAGS)));
            return;
        };
        self.nest(word, *at);
        match *word {
            "if" | "elif" | "else" | "endif" => {
                self.outline.steps.push(Step::Plain);
                self.expression(rest);
            }
            "for" => self.repeat(rest, *at),
            "endfor" => self.outline.steps.push(Step::EndFor),
            "include" => match rest {
                [Token { kind: Kind::Text(name), at }] => {
                    self.outline.steps.push(Step::Include((*name).to_owned(), *at))
                }
                _ => self.refuse(*at, "`include` takes one name of a template, in quotes"),
            },
            other => self.refuse(*at, format!("a template has no `{other}`; its tags are {}", listed(&TAGS))),
        }
    }

    /// `for NAME in PATH`, `for KEY, NAME in PATH`.
    fn repeat(&mut self, tokens: &[Token<'a>], at: usize) {
        let split = tokens.iter().position(|token| token.kind == Kind::Word("in"));
        let (names, path) = tokens.split_at(split.unwrap_or(tokens.len()));
        let words = |tokens: &[Token<'a>], between: &str| {
            tokens
                .iter()
                .enumerate()
                .map(|(index, token)| match token.kind {
                    Kind::Word(word) if index % 2 == 0 => Some(word.to_owned()),
                    Kind::Sign(sign) if index % 2 == 1 && sign == between => Some(String::new()),
                    _ => None,
                })
                .collect::<Option<Vec<_>>>()
                .map(|words| words.into_iter().step_by(2).collect::<Vec<_>>())
                .filter(|words| !words.is_empty())
        };
        match (words(names, ","), words(path.get(1..).unwrap_or_default(), ".")) {
            (Some(names), Some(path)) => self.outline.steps.push(Step::For(names, path)),
            _ => self.refuse(at, "a loop runs over a list of the sheet: `for row in rows`, `for card in row.cards`"),
        }
    }

    /// Names, texts and questions; a filter or a test by its name, and nothing that is called or reckoned.
    fn expression(&mut self, tokens: &[Token<'a>]) {
        let mut before: [Option<Kind<'_>>; 2] = [None, None];
        for (index, Token { kind, at }) in tokens.iter().enumerate() {
            let called = tokens.get(index + 1).is_some_and(|next| next.kind == Kind::Sign("("));
            let is_test = before[0] == Some(Kind::Word("is"))
                || (before == [Some(Kind::Word("not")), Some(Kind::Word("is"))] && *kind != Kind::Word("not"));
            match *kind {
                Kind::Word("not") if before[0] == Some(Kind::Word("is")) => {}
                Kind::Word(word) if before[0] == Some(Kind::Sign("|")) => {
                    if !FILTERS.contains(&word) {
                        let message = "figures and words are printed as they come";
                        self.refuse(*at, format!("no filter `{word}`: {message}; there are {}", listed(&FILTERS)));
                    }
                }
                Kind::Word(word) if is_test => {
                    if !TESTS.contains(&word) {
                        self.refuse(
                            *at,
                            format!("nothing can be asked with `is {word}`; there are {}", listed(&TESTS)),
                        );
                    }
                }
                Kind::Word("and" | "or" | "not" | "in" | "if" | "else") => {}
                Kind::Word(word) if called => {
                    self.refuse(*at, format!("a template calls nothing, so there is no `{word}(…)`"));
                }
                Kind::Word(word) if word.starts_with("__") || word.starts_with(|c: char| c.is_numeric()) => {
                    self.refuse(*at, format!("`{word}` is no name of a value; texts stand in quotes"));
                }
                Kind::Word(_) | Kind::Text(_) | Kind::Sign("." | "|" | "(" | ")" | "=" | "==" | "!=") => {}
                Kind::Sign(sign) => {
                    self.refuse(
                        *at,
                        format!("no `{sign}` in a template: it does no sums, joins no texts, makes no lists"),
                    );
                }
            }
            before = [Some(*kind), before[0]];
        }
    }
}

/// Where the next tag, value or comment begins.
fn next_opening(text: &str, from: usize) -> Option<usize> {
    let bytes = text.as_bytes();
    (from..bytes.len().saturating_sub(1)).find(|at| bytes[*at] == b'{' && matches!(bytes[*at + 1], b'{' | b'%' | b'#'))
}

fn listed(words: &[&str]) -> String {
    words.iter().map(|word| format!("`{word}`")).collect::<Vec<_>>().join(", ")
}

#[cfg(test)]
mod tests {
    use super::*;

    fn refused(text: &str) -> Vec<(Place, String)> {
        outline(text).err().into_iter().flatten().map(|refused| (refused.place, refused.message)).collect()
    }

    #[test]
    fn what_prints_asks_and_repeats_is_read() {
        let text = "{# sums: 1 + 1 #}a {{- b.c | default(value=\"–\") -}}\n{% if x is not defined and (not y or z == 'q') %}\
                    {% for row in rows %}{{ loop.index }}{% include \"_parts/footer.md\" %}{% endfor %}{% else %}{% endif %}";
        let steps = outline(text).unwrap().steps;
        let loops = steps.iter().filter(|step| matches!(step, Step::For(..))).collect::<Vec<_>>();
        assert_eq!(loops, [&Step::For(vec!["row".to_owned()], vec!["rows".to_owned()])]);
        assert!(steps.contains(&Step::Include("_parts/footer.md".to_owned(), text.find("\"_parts").unwrap())));
    }

    #[test]
    fn marks_stand_outside_of_tags_and_away_from_trimmed_white_space() {
        let text = "a {{ b }} c\n  {{ d }}\n{% if\ne %}f\n   {%- endif %}\n\n\t{{- g -}}  \n h";
        let marks = outline(text).unwrap().marks;
        let at: Vec<&str> = marks.iter().map(|at| &text[*at..=*at]).collect();
        assert_eq!(at, ["a", "c", "{", "{", "f", "h"]);
    }

    #[test]
    fn what_goes_too_deep_is_refused_before_anything_reads_on() {
        let elifs = format!("{{% if a %}}{}{{% endif %}}", "{% elif a %}".repeat(16));
        let beside = "{% if a %}{% for b in c %}{% endfor %}{% endif %}".repeat(300);
        for (text, stops) in [
            ("{% if a %}".repeat(17), true),
            ("{% if a %}".repeat(16), false),
            (elifs, true),
            (beside, false),
            (format!("{{{{ {} a }}}}", "not ".repeat(64)), true),
            (format!("{{{{ {}a }}}}", "(".repeat(3_000)), true),
        ] {
            let refused = outline(&text).err().unwrap_or_default();
            assert_eq!(refused.iter().any(|refused| refused.stops), stops, "{}", &text[..40]);
        }
    }

    #[test]
    fn sums_calls_captures_and_filters_are_refused_at_their_place() {
        for (text, column, word) in [
            ("é {{ a + b }}", 8, "`+`"),
            ("{{ a ~ b }}", 6, "`~`"),
            ("{{ range(end=9) }}", 4, "range"),
            ("{{ [1, 2] }}", 4, "`[`"),
            ("{{ a | upper }}", 8, "`upper`"),
            ("{{ 3 }}", 4, "`3`"),
            ("{% if a is odd %}{% endif %}", 12, "`is odd`"),
            ("{% if a is not odd %}{% endif %}", 16, "`is not odd`"),
            ("{% if a > b %}{% endif %}", 9, "`>`"),
            ("{% set a = b %}", 4, "`set`"),
            ("{% for a in b | reverse %}{% endfor %}", 4, "for row in rows"),
            ("{% for a in range(end=9) %}{% endfor %}", 4, "for row in rows"),
            ("{% include a %}", 4, "in quotes"),
            ("{% raw %}{{ a + b }}{% endraw %}", 4, "`raw`"),
            ("{{ \"\\\" }} {{ \" }}", 4, "backslash"),
        ] {
            let told = refused(text);
            let word = word.replace("is not odd", "is odd");
            assert!(!told.is_empty(), "{text}");
            assert_eq!(told[0].0, Place::Template(1, column), "{text}: {told:?}");
            assert!(told[0].1.contains(&word), "{text}: {told:?}");
        }
    }
}
