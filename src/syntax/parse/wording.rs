//! What was expected and what was found, in the language's own words.

use std::collections::BTreeMap;
use std::sync::LazyLock;

use super::grammar::Rule;
use super::scan::{Kind, Token};

/// Operators and units may follow nearly every value; they are worth a word only where nothing else may stand.
pub(super) fn is_operator(rule: Rule) -> bool {
    use Rule::{
        EOI, and_op, caret, compare_op, dot, exponent, feet, inches, kw_and, kw_or, member, minus_op, not_op, or_op, percent, product_op,
        sum_op, unit,
    };
    matches!(
        rule,
        EOI | and_op
            | caret
            | compare_op
            | dot
            | exponent
            | feet
            | inches
            | kw_and
            | kw_or
            | member
            | minus_op
            | not_op
            | or_op
            | percent
            | product_op
            | sum_op
            | unit
    )
}

/// The keywords and their rules.
static KEYWORDS: LazyLock<BTreeMap<Rule, String>> = LazyLock::new(|| {
    Rule::all_rules().iter().filter_map(|r| format!("{r:?}").strip_prefix("kw_").map(|word| (*r, word.to_owned()))).collect()
});

/// The word of a keyword's rule.
pub(super) fn keyword(rule: Rule) -> Option<&'static str> {
    KEYWORDS.get(&rule).map(String::as_str)
}

/// All keywords.
pub(super) fn keywords() -> impl Iterator<Item = &'static str> {
    KEYWORDS.values().map(String::as_str)
}

/// What a rule stands for, as part of "expected …".
fn phrase(rule: Rule, after: &str) -> String {
    let fixed = match rule {
        Rule::name | Rule::reference | Rule::layer | Rule::names | Rule::imported | Rule::parameter => a_name(after),
        Rule::module_path => "the name of a file, such as std.trims",
        Rule::code => "the code of a warning, such as unused-material",
        Rule::text | Rule::quote => "a text in quotes",
        Rule::expr | Rule::argument | Rule::lone_expr => "a value",
        Rule::digits => "a whole number",
        Rule::comma => "a comma",
        Rule::colon => "`:`",
        Rule::equals => "`=`",
        Rule::open_brace => "`{`",
        Rule::close_brace => "`}`",
        Rule::open_paren | Rule::arguments | Rule::parameters => "`(`",
        Rule::close_paren => "`)`",
        Rule::close_bracket => "`]`",
        Rule::edge_ref | Rule::edge_refs | Rule::edge_row | Rule::edge_run | Rule::edge_chain => "an edge, such as outer.left",
        Rule::corner | Rule::corners => "a corner, such as head-left",
        Rule::stroke => "`line`, `arc`, `curve` or `hung`",
        Rule::stroke_end => "a point or `start`",
        Rule::use_finish => "a finish, such as double_hem(width: 2 cm)",
        Rule::stitch => "a stitch, such as lockstitch 3 mm",
        Rule::places => "`at` or `spaced`",
        Rule::stretch | Rule::stretch_from => "`from` and the end it is measured from",
        Rule::spaced_evenly | Rule::spaced_every | Rule::spaced => "how many evenly, or `every` and a distance",
        Rule::attach_where => "`at`, `along`, `over` or `spaced`",
        Rule::attach_edges | Rule::attach_edges_on => "`on` and an edge, or `between` two edges",
        Rule::setting => "a setting, such as `width = 150 cm`",
        Rule::drawing_place => "a place in the drawing, such as (120, 80)",
        Rule::drawing_figure => "a number in the drawing's own units",
        Rule::traced_edge => "the name of an edge, such as left",
        Rule::traced_length => "an edge and its length, such as `foot is 42 cm`",
        Rule::corner_join => "`corner`",
        Rule::on_layer => "`on layer` and its name in quotes",
        Rule::cutter_item => "`draw`, `cut` or a setting",
        Rule::place_list | Rule::grain_angle => "a value",
        _ if is_item(rule) => "a line that begins with a word such as `let`",
        _ => return keyword(rule).map_or_else(|| "something else".to_owned(), |word| format!("`{word}`")),
    };
    fixed.to_owned()
}

/// Whether a rule is one thing of a block.
fn is_item(rule: Rule) -> bool {
    let lone = rule >= Rule::lone_file_item && rule <= Rule::lone_setting;
    lone || matches!(rule, Rule::file_item | Rule::use_decl | Rule::declaration | Rule::design_item | Rule::panel_item | Rule::outline_item)
        || matches!(rule, Rule::component_item | Rule::finish_item | Rule::seam_item | Rule::quilt_item)
}

/// What kind of name follows a word.
fn a_name(after: &str) -> &'static str {
    match after {
        "from" => "the name of the edge at that end, such as foot",
        "on" | "along" | "taper" | "notch" | "raw" | "dart" | "pleat" | "sewing" | "place" => "the name of an edge, such as left",
        "draw" | "cut" => "a kind of line, such as outlines",
        "with" => "a finish, such as double_hem(width: 2 cm)",
        _ => "a name",
    }
}

/// Whether a rule is one of the forms of a value.
fn part_of_value(rule: Rule) -> bool {
    use Rule::{decimal, feet_inches, list, name, number, open_bracket, open_paren, parenthesised, quantity, quote, reference};
    let operand = matches!(rule, feet_inches | list | number | parenthesised | quantity | reference | Rule::text | Rule::truth);
    operand
        || matches!(rule, decimal | name | open_bracket | open_paren | quote | Rule::kw_yes | Rule::kw_no | Rule::kw_when | Rule::kw_not)
}

/// Whether a value was expected.
pub(super) fn is_value(rules: &[Rule]) -> bool {
    rules.iter().any(|r| matches!(r, Rule::expr | Rule::argument | Rule::lone_expr | Rule::quantity | Rule::parenthesised))
}

/// All that was expected after a word, joined with "or"; empty when the statement could have ended there.
/// With `sign` a value was found, which a sign would have joined to the one before it.
pub(super) fn expected(rules: &[Rule], after: &str, sign: bool) -> String {
    let value = is_value(rules);
    let mut phrases: Vec<String> = Vec::new();
    if value {
        phrases.push("a value".to_owned());
    }
    for rule in rules.iter().filter(|r| !(is_operator(**r) || value && part_of_value(**r))) {
        let phrase = phrase(*rule, after);
        if !phrases.contains(&phrase) {
            phrases.push(phrase);
        }
    }
    // A comma only goes on with a list; a word that must follow says more.
    let words = phrases.iter().any(|p| p.starts_with('`') && p.len() > 3);
    phrases.retain(|p| !words || p != "a comma");
    // A bracket makes a call of any name.
    let other = phrases.iter().any(|p| p != "`(`");
    phrases.retain(|p| !other || p != "`(`");
    if sign && !phrases.is_empty() && rules.contains(&Rule::sum_op) {
        phrases.push("a sign such as + or <".to_owned());
    }
    if phrases.is_empty() && !rules.contains(&Rule::EOI) {
        return "a unit, a sign such as + or -, or the rest of the statement".to_owned();
    }
    // The end of the statement was possible too, so none of these was required.
    if rules.contains(&Rule::EOI) { String::new() } else { join(&phrases) }
}

/// `a, b or c`
pub(super) fn join(phrases: &[String]) -> String {
    match phrases {
        [] => String::new(),
        [one] => one.clone(),
        [all @ .., last] => format!("{} or {last}", all.join(", ")),
    }
}

/// A token, as part of "found …".
pub(super) fn found(token: &Token, text: &str) -> String {
    let written = token.text(text);
    match token.kind {
        Kind::Text => "a text".to_owned(),
        Kind::Number => format!("the number {}", crop(written)),
        Kind::Word | Kind::Open(_) | Kind::Close(_) | Kind::Mark => format!("`{}`", crop(written)),
    }
}

/// At most forty characters of what is written.
fn crop(written: &str) -> String {
    match written.char_indices().nth(40) {
        Some((at, _)) => format!("{}…", written.get(..at).unwrap_or("")),
        None => written.to_owned(),
    }
}
