//! What is measured at a hold: a box for each value, and the line that signs the step.

use super::blocks::Writer;
use super::{Measured, escaped};

impl Writer<'_> {
    /// The values to be measured, step by step. Without the script, the line asks what the step wants measured.
    pub(super) fn measured(&mut self, measured: &[Measured], commission: &str) {
        for step in measured.chunk_by(|one, other| one.step == other.step) {
            let Some(first) = step.first() else { continue };
            let (name, word) = (self.name(), escaped(&first.step));
            self.put(&format!(
                "<div class=\"sign\" role=\"group\" aria-labelledby=\"{name}\" data-step=\"{word}\" \
                 data-commission=\"{}\">\n<h3 id=\"{name}\">Hold: measure, write down, sign step “{word}”</h3>\n",
                escaped(commission)
            ));
            self.open_scroll(&name);
            self.put(
                "<thead><tr><th scope=\"col\">measure</th><th scope=\"col\" class=\"r\">nominal</th>\
                 <th scope=\"col\" class=\"r\">from</th><th scope=\"col\" class=\"r\">to</th>\
                 <th scope=\"col\">measured</th></tr></thead>\n<tbody>\n",
            );
            step.iter().for_each(|value| self.value(value));
            self.put("</tbody>\n");
            self.close_scroll();
            self.put(&format!(
                "<p><label>Signed by <input type=\"text\" autocomplete=\"off\" data-by></label></p>\n\
                 <p class=\"line\"><code>kerfbook sign {} {}</code> \
                 <button type=\"button\" data-copy hidden>Copy</button> <span role=\"status\"></span></p>\n\
                 <p class=\"note rest\">Without values, this line lists what the step wants measured.</p>\n</div>\n",
                escaped(&argument(commission)),
                escaped(&argument(&first.step)),
            ));
        }
    }

    fn value(&mut self, value: &Measured) {
        let Measured { key, what, nominal, low, high, unit, .. } = value;
        let (key, what) = (escaped(key), escaped(what));
        self.put(&format!("<tr><th scope=\"row\">{what}</th>"));
        for (class, figure) in [("r", nominal), ("r strong", low), ("r strong", high)] {
            self.put(&format!("<td class=\"{class}\">{}</td>", escaped(figure)));
        }
        if unit.is_empty() {
            self.put(&format!(
                "<td><label><input type=\"checkbox\" data-key=\"{key}\" aria-label=\"ok: {what}\"> ok</label></td></tr>\n"
            ));
            return;
        }
        let unit = escaped(unit);
        self.put(&format!(
            "<td class=\"box\"><input type=\"text\" autocomplete=\"off\" data-key=\"{key}\" data-unit=\"{unit}\""
        ));
        for (name, figure) in [("low", low), ("high", high)] {
            if !figure.is_empty() {
                // A script's minus is the hyphen.
                self.put(&format!(" data-{name}=\"{}\"", escaped(&figure.replace('−', "-"))));
            }
        }
        self.put(&format!(
            " aria-label=\"measured, in {unit}: {what}\"> {unit} <span class=\"verdict\" role=\"status\"></span></td></tr>\n"
        ));
    }
}

/// A text as one argument of a POSIX shell (IEEE Std 1003.1, section 2.2); what begins with a hyphen is not taken for an
/// option.
fn argument(text: &str) -> String {
    let is_plain = |sign: char| sign.is_ascii_alphanumeric() || "._/+-=".contains(sign);
    let text = if text.starts_with('-') { format!("./{text}") } else { text.to_owned() };
    if !text.is_empty() && text.chars().all(is_plain) { text } else { format!("'{}'", text.replace('\'', "'\\''")) }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_a_shell_would_act_on_is_quoted() {
        assert_eq!(argument("T-204-lantern-street.toml"), "T-204-lantern-street.toml");
        assert_eq!(argument("it's $(here).toml"), r"'it'\''s $(here).toml'");
        assert_eq!(argument("-rf.toml"), "./-rf.toml");
        assert_eq!(argument(""), "''");
    }
}
