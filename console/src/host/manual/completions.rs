//! What lets a shell complete the program's verbs, options and their values; files otherwise.

use std::format;
use std::string::String;
use std::vec::Vec;

use crate::host::args::usage::{Choice, PROGRAM, VERBS, Value, Verb};

/// A shell that completes words.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Completed {
    /// bash.
    Bash,
    /// zsh.
    Zsh,
    /// fish.
    Fish,
}

impl Completed {
    /// The shell of a word.
    #[must_use]
    pub fn find(word: &str) -> Option<Self> {
        match word {
            "bash" => Some(Self::Bash),
            "zsh" => Some(Self::Zsh),
            "fish" => Some(Self::Fish),
            _ => None,
        }
    }

    /// What that shell has to read.
    #[must_use]
    pub fn script(self) -> String {
        match self {
            Self::Bash => bash(),
            Self::Zsh => zsh(),
            Self::Fish => fish(),
        }
    }
}

/// The words that can stand behind a verb, where they are no files.
fn operands(verb: &Verb) -> Option<String> {
    match verb.operands {
        "" => Some(String::new()),
        "[VERB]" => Some(words(VERBS.iter().map(|verb| verb.word))),
        choice if choice.contains('|') => Some(choice.replace('|', " ")),
        _ => None,
    }
}

fn words<'a>(words: impl Iterator<Item = &'a str>) -> String {
    words.collect::<Vec<_>>().join(" ")
}

fn options(verb: &Verb) -> String {
    verb.options.iter().map(|option| format!("--{} ", option.long)).collect()
}

fn bash() -> String {
    let names = words(VERBS.iter().map(|verb| verb.word));
    let mut values = String::new();
    let mut behind = String::new();
    for verb in [&PROGRAM].into_iter().chain(VERBS) {
        for Choice { long, value, .. } in verb.options {
            let word = verb.word;
            match value {
                Value::None => {}
                Value::Word(choice) => {
                    values += &format!("        {word}:--{long}) words=\"{}\" ;;\n", choice.join(" "));
                }
                Value::File | Value::Other(_) => values += &format!("        {word}:--{long}) return ;;\n"),
            }
        }
        if !verb.word.is_empty() {
            let options = format!("{}--help", options(verb));
            behind += &match operands(verb) {
                // A file is completed by the shell itself.
                None => format!("            {}) [[ $cur == -* ]] && words=\"{}\" ;;\n", verb.word, options),
                Some(words) => format!(
                    "            {}) words=\"{}\" ;;\n",
                    verb.word,
                    format!("{words} {options}").trim()
                ),
            };
        }
    }
    let first = format!("{names} {}--help --version", options(&PROGRAM));
    format!(
        "# Completions of halfskip for bash. Files are completed where nothing else fits.
_halfskip() {{
    local cur=${{COMP_WORDS[COMP_CWORD]}} prev=${{COMP_WORDS[COMP_CWORD-1]}} verb= word words=
    for word in \"${{COMP_WORDS[@]:1:COMP_CWORD-1}}\"; do
        case $word in
            {}) verb=$word; break ;;
        esac
    done
    COMPREPLY=()
    case $verb:$prev in
{values}        *) case $verb in
            '') words=\"{first}\" ;;
{behind}            esac ;;
    esac
    COMPREPLY=($(compgen -W \"$words\" -- \"$cur\"))
}}
complete -o default -F _halfskip halfskip
",
        names.replace(' ', "|")
    )
}

/// A text within single quotes of zsh or fish.
fn quoted(text: &str) -> String {
    text.replace('\\', "\\\\").replace('\'', "'\\''")
}

fn zsh() -> String {
    let plain = |text: &str| quoted(text).replace(':', "\\:").replace('[', "\\[").replace(']', "\\]");
    let spec = |Choice { long, value, about }: &Choice| {
        let value = match value {
            Value::None => String::new(),
            Value::File => ":file:_files".into(),
            Value::Word(words) => format!(":{long}:({})", words.join(" ")),
            Value::Other(name) => format!(":{name}:"),
        };
        format!("'--{long}[{}]{value}' ", plain(about))
    };
    let (mut verbs, mut cases) = (String::new(), String::new());
    for verb in VERBS {
        verbs += &format!("        '{}:{}'\n", verb.word, plain(verb.about));
        let options: String = verb.options.iter().map(spec).collect();
        let operands = match operands(verb) {
            None => "'*:file:_files'".into(),
            Some(words) if words.is_empty() => String::new(),
            Some(words) => format!("'1:{}:({words})'", verb.word),
        };
        cases += &format!("        {}) _arguments {options}'--help[more of it]' {operands} ;;\n", verb.word);
    }
    let first: String = PROGRAM.options.iter().map(spec).collect();
    format!(
        "#compdef halfskip
# Completions of halfskip for zsh.
_halfskip() {{
    local -a verbs
    verbs=(
{verbs}    )
    if (( CURRENT == 2 )) && [[ ${{words[2]}} != -* ]]; then
        _describe verb verbs
        return
    fi
    local verb=${{words[2]}}
    if [[ $verb != -* ]]; then
        shift words
        (( CURRENT-- ))
    fi
    case $verb in
{cases}        *) _arguments {first}'--help[every verb]' '--version[which version this is]' ;;
    esac
}}
if [[ ${{funcstack[1]}} = _halfskip ]]; then
    _halfskip \"$@\"
else
    compdef _halfskip halfskip
fi
"
    )
}

fn fish() -> String {
    let names = words(VERBS.iter().map(|verb| verb.word));
    let mut out = String::from("# Completions of halfskip for fish.\n");
    let option = |when: &str, Choice { long, value, about }: &Choice| {
        let value = match value {
            Value::None => String::new(),
            Value::File => " -r -F".into(),
            Value::Word(words) => format!(" -x -a '{}'", words.join(" ")),
            Value::Other(_) => " -x".into(),
        };
        format!("complete -c halfskip -n '{when}' -l {long}{value} -d '{}'\n", quoted(about))
    };
    let none = format!("not __fish_seen_subcommand_from {names}");
    for choice in PROGRAM.options {
        out += &option(&none, choice);
    }
    out += &format!("complete -c halfskip -n '{none}' -l version -d 'Which version this is'\n");
    out += "complete -c halfskip -l help -d 'What it takes'\n";
    for verb in VERBS {
        out += &format!("complete -c halfskip -n '{none}' -f -a {} -d '{}'\n", verb.word, quoted(verb.about));
        let when = format!("__fish_seen_subcommand_from {}", verb.word);
        if let Some(words) = operands(verb) {
            out += &format!("complete -c halfskip -n '{when}' -f -a '{words}'\n");
        }
        for choice in verb.options {
            out += &option(&when, choice);
        }
    }
    out
}
