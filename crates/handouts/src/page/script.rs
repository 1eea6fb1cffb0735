//! Joining the page's modules into one script: imports and exports go, the rest stays as it is.

/// The modules with their names, in the order in which they are joined.
pub(super) const MODULES: [(&str, &str); 16] = [
    ("order.js", include_str!("../../page/order.js")),
    ("diary.js", include_str!("../../page/diary.js")),
    ("session.js", include_str!("../../page/session.js")),
    ("unwell.js", include_str!("../../page/unwell.js")),
    ("check.js", include_str!("../../page/check.js")),
    ("closing.js", include_str!("../../page/closing.js")),
    ("state.js", include_str!("../../page/state.js")),
    ("store.js", include_str!("../../page/store.js")),
    ("dom.js", include_str!("../../page/dom.js")),
    ("screens.js", include_str!("../../page/screens.js")),
    (
        "session_screens.js",
        include_str!("../../page/session_screens.js"),
    ),
    (
        "unwell_screens.js",
        include_str!("../../page/unwell_screens.js"),
    ),
    (
        "closing_screens.js",
        include_str!("../../page/closing_screens.js"),
    ),
    ("dot.js", include_str!("../../page/dot.js")),
    ("keys.js", include_str!("../../page/keys.js")),
    ("main.js", include_str!("../../page/main.js")),
];

/// One script that starts the page.
pub(super) fn script() -> String {
    let mut out = String::from("(function(){'use strict';\n");
    for (_, text) in MODULES {
        for line in text.lines() {
            if is_import(line) || is_comment(line) || line.trim().is_empty() {
                continue;
            }
            out.push_str(line.strip_prefix("export ").unwrap_or(line).trim_start());
            out.push('\n');
        }
    }
    out.push_str("start();\n})();");
    out
}

/// An import stands on one line: the tests see to that.
fn is_import(line: &str) -> bool {
    line.starts_with("import ")
}

/// Whole lines of comment; nothing is taken out of a line of code.
fn is_comment(line: &str) -> bool {
    let line = line.trim_start();
    line.starts_with("//")
        || line.starts_with("/**")
        || line.starts_with("* ")
        || line == "*/"
        || line == "*"
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::collections::BTreeMap;

    /// Names declared at the top of a module.
    fn names(text: &str) -> Vec<&str> {
        text.lines()
            .filter_map(|line| {
                let line = line.strip_prefix("export ").unwrap_or(line);
                let rest = ["function ", "const ", "let ", "class ", "var "]
                    .iter()
                    .find_map(|word| line.strip_prefix(word))?;
                rest.split(|sign: char| !sign.is_alphanumeric() && sign != '_')
                    .next()
            })
            .collect()
    }

    #[test]
    fn names_of_the_modules_do_not_collide_when_they_are_joined() {
        let mut seen: BTreeMap<&str, &str> = BTreeMap::new();
        for (module, text) in MODULES {
            for name in names(text) {
                if let Some(other) = seen.insert(name, module) {
                    panic!("'{name}' stands in {other} and in {module}");
                }
            }
        }
        assert!(
            seen.len() > 80,
            "the names were found at all: {}",
            seen.len()
        );
    }

    #[test]
    fn every_import_names_a_module_that_is_joined_and_a_name_that_it_exports() {
        for (module, text) in MODULES {
            for line in text
                .lines()
                .filter(|line| line.contains("import") && line.contains("from"))
            {
                if line.trim_start().starts_with("//") {
                    continue;
                }
                assert!(
                    is_import(line) && line.ends_with(';'),
                    "{module}: an import stands on one line: {line}"
                );
                let from = line
                    .split("'./")
                    .nth(1)
                    .and_then(|rest| rest.split('\'').next())
                    .expect("a module");
                let (_, other) = MODULES.iter().find(|(name, _)| *name == from).expect(from);
                let list = line.split(['{', '}']).nth(1).expect("a list");
                for name in list
                    .split(',')
                    .map(str::trim)
                    .filter(|name| !name.is_empty())
                {
                    let exported = [
                        format!("export function {name}("),
                        format!("export const {name} "),
                    ];
                    assert!(
                        exported.iter().any(|one| other.contains(one)),
                        "{module}: {from} exports no {name}"
                    );
                }
            }
        }
    }

    #[test]
    fn the_joined_script_has_neither_imports_nor_anything_that_closes_it() {
        let script = script();
        assert!(!script.contains("\nimport ") && !script.contains("\nexport "));
        assert!(!script.contains("</script"));
        assert!(!script.contains("=> {}?"), "no syntax beyond ES2018");
        for later in ["?.", "??", ".flat(", "Object.fromEntries", "replaceAll"] {
            assert!(!script.contains(later), "{later} is later than ES2018");
        }
    }

    #[test]
    fn no_clinical_number_stands_in_the_script() {
        // Numbers of three digits and more are times in ms and years of nobody; everything clinical comes as data.
        for bad in ["bpm <", "bpm >", "mmol", "mmHg", "METs"] {
            assert!(!script().contains(bad), "{bad}");
        }
    }
}
