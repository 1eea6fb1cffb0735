//! Every rule, equation and cut-off with its statement, its source and how well it is known.

use crate::guard::Signed;
use crate::layout::{Nav, page, row, source};
use crate::phrases::sentence;
use maud::{Markup, html};
use rehab::evidence::Rule;

pub(crate) async fn show(signed: Signed) -> Markup {
    let mut groups: Vec<(&'static str, Vec<&'static Rule>)> = Vec::new();
    for rule in rehab::rules::rules() {
        let group = rule.id.0.split('/').next().unwrap_or_default();
        match groups.iter_mut().find(|(known, _)| *known == group) {
            Some((_, rules)) => rules.push(rule),
            None => groups.push((group, vec![rule])),
        }
    }
    let count: usize = groups.iter().map(|(_, rules)| rules.len()).sum();
    let head = html! {
        h1.title { "Every rule and cut-off" }
        p.lead { (count) " in all. Read: in the source itself or a reproduction of it. Recalled: to be confirmed before it is adopted. Our default: yours to set or confirm." }
    };
    let body = html! {
        (row(&html! {}, &head, &html! { p { a href="/service" { "Back to the settings" } } }))
        @for (group, rules) in &groups {
            section.group {
                (row(&html! {}, &html! { h2.part { (sentence(&group.replace('-', " "))) } }, &html! {}))
                @for rule in rules {
                    div.person { (row(
                        &html! {},
                        &html! { p { b { (rule.name) ". " } (rule.statement) } },
                        &html! { p { (source(rule.sources, rule.tag)) } p.quiet { (rule.id) } },
                    )) }
                }
            }
        }
    };
    page(&signed, "Every rule and cut-off", Nav::Service, &body)
}
