//! Requests to the calculators.

use std::mem::ManuallyDrop;

use gaugeleaf_calc::ask::{Question, ask};
use gaugeleaf_calc::calculator::{Answer, PrintedValue, Problem, ProblemKind, Verdict};
use gaugeleaf_calc::catalog::Whose;
use gaugeleaf_calc::field::{Entry, Field, FieldKind};
use gaugeleaf_calc::ground::Ground;
use gaugeleaf_calc::named::Role;
use gaugeleaf_calc::{Argument, Catalog, Job};

use crate::answer::{
    answer_json, bound, leaves_json, limits_json, problem_json, reading_json, working_json,
};
use crate::ask::asked_json;
use crate::json::{JsonEntries, JsonValue};
use crate::object::ObjectValue::{Json, Maybe, Number, Text, Told, Truth};
use crate::object::{object, put};
use crate::request;

/// Draws an answer in one of its ways.
type DrawFunction = fn(&Catalog, &Answer) -> Option<String>;

#[derive(Default)]
pub(crate) struct Calculators {
    /// A page takes one catalog, for as long as it lives: the engine carries nothing to drop it with.
    catalog: ManuallyDrop<Catalog>,
    job: Job,
}

impl Calculators {
    pub(crate) fn take(&mut self, packed: &[u8]) -> Result<JsonValue, String> {
        let catalog = Catalog::unpack(packed);
        let catalog = catalog.ok_or("the catalog is damaged or of another version")?;
        self.catalog = ManuallyDrop::new(catalog);
        Ok(object(&mut [("ok", Truth(true))]))
    }

    /// Takes whose values hold: `{"whose": "hand", "name": "E-204", "kit": "", "given": {"channel_depth": {"text":
    /// "9 in", "when": "26 Nov 2026"}}}`, of a job in hand; `"prepared"` with a `name`, of a job that
    /// the handbook prepares; else those of a page, which gives some itself.
    pub(crate) fn job(&mut self, request: &JsonValue) -> Result<JsonValue, String> {
        let part = |key| request.get(key).and_then(JsonValue::as_str).unwrap_or("");
        let (kit, given) = (part("kit"), request.get("given"));
        let whose = match part("whose") {
            "hand" => Whose::InHand {
                name: part("name"),
                kit,
                given: request::taken(given),
            },
            "prepared" => Whose::Prepared {
                name: part("name"),
                kit,
                given: request::pairs(given),
            },
            _ => Whose::Page {
                given: request::pairs(given),
            },
        };
        self.job = self.catalog.job_of(&whose);
        Ok(object(&mut [("ok", Truth(true))]))
    }

    /// Takes the drawings of the setup sheet.
    pub(crate) fn take_drawings(&mut self, packed: &[u8]) -> Result<JsonValue, String> {
        let taken = self.catalog.take_drawings(packed);
        let taken = taken.then(|| object(&mut [("ok", Truth(true))]));
        taken.ok_or_else(|| "the drawings are damaged or of another version".to_string())
    }

    /// The drawings of the setup sheet for the job, by name.
    pub(crate) fn draw(&self) -> JsonValue {
        let drawn = self.catalog.draw_sheet(&self.job).into_iter();
        let drawings =
            drawn.map(|(name, drawn)| (name.to_string(), JsonValue::from(drawn.as_str())));
        object(&mut [("drawings", Json(JsonValue::Object(drawings.collect())))])
    }

    /// The whole job in few numbers: its worst verdict, how many there are of each, what the open
    /// ones wait for, what could not be worked out, and how much is measured.
    pub(crate) fn judge(&self) -> JsonValue {
        let sheet = self.catalog.judged_sheet(&self.job);
        let (mut taken, mut of) = (0, 0);
        for (name, named) in self.catalog.named.iter() {
            if named.role == Role::Measurement {
                let held = self.job.get(name);
                taken += u32::from(held.is_some_and(|held| held.ground == Ground::Measured));
                of += 1;
            }
        }
        let measured = object(&mut [
            ("taken", Number(f64::from(taken))),
            ("of", Number(f64::from(of))),
        ]);
        let calculators = &self.catalog.calculators;
        let stuck = sheet
            .unanswered()
            .filter_map(|answer| calculators.get(&answer.calculator))
            .filter(|calculator| !calculator.checks.is_empty())
            .map(|calculator| JsonValue::from(calculator.title.as_str()));
        let counts = Verdict::ALL.map(|is| (is.word(), Number(sheet.count(is) as f64)));
        let mut needs = sheet.needs().into_iter();
        object(&mut [
            ("worst", Maybe(sheet.worst().map(Verdict::word))),
            ("verdicts", Json(object(&mut { counts }))),
            (
                "needs",
                Json(leaves_json(&mut needs, &self.catalog.language)),
            ),
            ("stuck", Json(stuck.collect())),
            ("measured", Json(measured)),
            ("training", Truth(self.catalog.own.demonstration)),
        ])
    }

    pub(crate) fn calculate(&self, request: &JsonValue) -> Result<JsonValue, String> {
        let name = request::text(request, "name")?;
        let given = request::given(request.get("inputs"));
        let Some(answer) = self.catalog.calculate(name, &given, &self.job) else {
            return Err(self.unknown(name));
        };
        let working = request::wants(request, "working");
        let JsonValue::Object(mut json) = answer_json(&answer, working, &self.catalog.language)
        else {
            return Ok(JsonValue::Null);
        };
        let drawings: [(&str, DrawFunction); 3] = [
            ("figure", Catalog::draw),
            ("plot", Catalog::plot),
            ("map", Catalog::draw_map),
        ];
        for (name, draw) in drawings {
            if request::wants(request, name)
                && let Some(drawn) = draw(&self.catalog, &answer)
            {
                put(&mut json, &mut [(name, Text(&drawn))]);
            }
        }
        if self.catalog.own.demonstration {
            put(&mut json, &mut [("training", Truth(true))]);
        }
        let json = JsonValue::Object(json);
        Ok(for_lines(json, request))
    }

    /// Compares a typed answer with a result. `given` are the job's values of the question's own
    /// page: a question asks the same on every job.
    pub(crate) fn grade(&self, request: &JsonValue) -> Result<JsonValue, String> {
        let name = request::text(request, "name")?;
        let given = request::given(request.get("inputs"));
        let given_by_page = request::pairs(request.get("given"));
        let job = self.catalog.job_of(&Whose::Page {
            given: given_by_page,
        });
        let answer = self
            .catalog
            .calculate(name, &given, &job)
            .ok_or_else(|| self.unknown(name))?;
        let part = |key| request::text(request, key);
        let graded = self.catalog.calculators[name].grade(
            &answer,
            part("output")?,
            part("typed")?,
            part("tolerance")?,
        );
        Ok(match graded {
            Ok(grade) => object(&mut [
                ("right", Truth(grade.right)),
                ("expected", Text(&grade.expected)),
                ("working", Json(working_json(&answer))),
            ]),
            Err(problem) => {
                let problem = problem_json(&problem, &self.catalog.language);
                object(&mut [("problem", Json(problem))])
            }
        })
    }

    /// How far an input may go before a verdict changes.
    pub(crate) fn limits(&self, request: &JsonValue) -> Result<JsonValue, String> {
        let name = request::text(request, "name")?;
        if !self.catalog.calculators.contains_key(name) {
            return Err(self.unknown(name));
        }
        let given = request::given(request.get("inputs"));
        let input = request::text(request, "input")?;
        let limits = self.catalog.limits(name, input, &given, &self.job);
        let json = match limits {
            Ok(limits) => {
                object(&mut [("limits", Json(limits_json(&limits, &self.catalog.language)))])
            }
            Err(problem) => {
                let problem = problem_json(&problem, &self.catalog.language);
                let problems = JsonValue::Array(vec![problem]);
                object(&mut [("problems", Json(problems))])
            }
        };
        Ok(for_lines(json, request))
    }

    /// Measurements and ratings: `{"inputs": {"channel_depth": {"text": "9", "unit": "in"}}}` as
    /// typed, and `{"inputs": {"channel_depth": null}}` as the job has it.
    pub(crate) fn measure(&self, request: &JsonValue) -> Result<JsonValue, String> {
        let inputs = request.get("inputs");
        let (mut read, mut problems) = (JsonEntries::new(), Vec::new());
        for given in request::given(inputs) {
            let asked = !matches!(
                inputs.and_then(|inputs| inputs.get(&given.name)),
                Some(JsonValue::Null)
            );
            match self.measured(&given, asked) {
                Ok(json) => {
                    read.push((given.name, json));
                }
                Err(problem) => {
                    let mut json = problem_json(&problem, &self.catalog.language);
                    if let (JsonValue::Object(json), Some(named)) =
                        (&mut json, self.catalog.named.get(&given.name))
                    {
                        put(json, &mut [("label", Text(&named.field.label))]);
                    }
                    problems.push(json);
                }
            }
        }
        Ok(object(&mut [
            ("inputs", Json(JsonValue::Object(read))),
            ("problems", Json(JsonValue::Array(problems))),
        ]))
    }

    fn measured(&self, given: &Argument, typed: bool) -> Result<JsonValue, Problem> {
        let Argument {
            name,
            text,
            unit,
            confirmed,
            ..
        } = given;
        let problem = |kind, message, help| Problem {
            input: name.clone(),
            kind,
            message,
            help,
        };
        let named =
            self.catalog.named.get(name).ok_or_else(|| {
                problem(ProblemKind::Unknown, self.catalog.no_quantity(name), None)
            })?;
        let field = &named.field;
        let leaf = self.catalog.leaf(name, &self.job);
        let entry = match self.job.standing(named) {
            _ if typed => field.take(text, unit.as_deref(), *confirmed),
            Some((held, _)) => field.take(held, None, true),
            None => return Err(problem(ProblemKind::NoAnswer, leaf.from, None)),
        };
        let entry = entry
            .map_err(|refusal| problem(ProblemKind::of(&refusal), refusal.message, refusal.help))?;
        let mut json = JsonEntries::new();
        put(&mut json, &mut [("label", Text(&field.label))]);
        if !typed {
            let doubt = self.job.doubt(named);
            let doubt = doubt.as_ref().map(|doubt| &doubt.message);
            put(
                &mut json,
                &mut [
                    ("ground", Text(leaf.ground.word())),
                    ("from", Told(&self.catalog.language, Some(&leaf.from))),
                    ("doubt", Told(&self.catalog.language, doubt)),
                ],
            );
        }
        match (&entry, &field.kind) {
            (Entry::Number(number), FieldKind::Number { format, .. }) => {
                let printed = if typed {
                    format.echo(number)
                } else {
                    format.print(number.si)
                };
                if typed {
                    let keep = kept(text, &number.unit.symbol);
                    put(&mut json, &mut [("keep", Text(&keep))]);
                }
                let understood = format.understood(number);
                put(&mut json, &mut [("understood", Text(&understood))]);
                reading_json(&PrintedValue::Number(printed), &mut json);
            }
            (Entry::Choice(choice), _) => {
                if typed {
                    put(&mut json, &mut [("keep", Text(&choice.name))]);
                }
                put(
                    &mut json,
                    &mut [
                        ("understood", Text(&choice.label)),
                        ("choice", Text(&choice.name)),
                        ("text", Text(&choice.label)),
                    ],
                );
            }
            (Entry::Number(_), FieldKind::Choice(_)) => {}
        }
        Ok(JsonValue::Object(json))
    }

    /// Understands a question in a person's own words, and works it out.
    pub(crate) fn ask(&self, request: &JsonValue) -> Result<JsonValue, String> {
        let question = Question {
            text: request::text(request, "query")?.to_string(),
            meanings: request::lists(request.get("meanings")),
            candidates: request::texts(request.get("candidates")),
        };
        let asked = ask(&self.catalog, &self.job, &question);
        Ok(for_lines(asked_json(&asked, &self.catalog), request))
    }

    /// The same quantity in another unit; without an input, `name` is a measurement.
    pub(crate) fn switch(&self, request: &JsonValue) -> Result<JsonValue, String> {
        let field = self.field(request)?;
        let (from, to) = (
            request::text(request, "from")?,
            request::text(request, "to")?,
        );
        match field.switch(request::text(request, "text")?, from, to) {
            Ok(text) => Ok(object(&mut [("text", Text(&text))])),
            Err(refusal) => Ok(object(&mut [
                (
                    "problem",
                    Told(&self.catalog.language, Some(&refusal.message)),
                ),
                ("help", Told(&self.catalog.language, refusal.help.as_ref())),
            ])),
        }
    }

    fn field(&self, request: &JsonValue) -> Result<&Field, String> {
        let name = request::text(request, "name")?;
        if request.get("input").is_none()
            && let Some(named) = self.catalog.named.get(name)
        {
            return Ok(&named.field);
        }
        let calculator = self.catalog.calculators.get(name);
        let calculator = calculator.ok_or_else(|| self.unknown(name))?;
        let input = request::text(request, "input")?;
        let found = calculator.input(input);
        let language = &self.catalog.language;
        let found = found.ok_or_else(|| language.say(&self.catalog.no_input(input)))?;
        Ok(&found.field)
    }

    fn unknown(&self, name: &str) -> String {
        if self.catalog.calculators.is_empty() {
            // and so no words either
            return "no catalog was taken".to_string();
        }
        self.catalog.language.say(&self.catalog.no_calculator(name))
    }
}

/// With its numbers bound to their units, where the request wants that.
fn for_lines(mut json: JsonValue, request: &JsonValue) -> JsonValue {
    if request::wants(request, "bound") {
        bound(&mut json);
    }
    json
}

/// What was typed, and its unit where it names none, so that it reads the same anywhere.
fn kept(text: &str, unit: &str) -> String {
    let text = text.trim();
    let bare = !text.contains(|c: char| c.is_alphabetic() || "'\"′″’”‘“°%".contains(c));
    if !bare || unit == "count" {
        return text.to_string();
    }
    let tolerance = ["±", "+-", "+/-"]
        .into_iter()
        .find(|sign| text.contains(sign));
    let text = tolerance.map_or_else(
        || text.to_string(),
        |sign| text.replacen(sign, &format!("{unit} {sign}"), 1),
    );
    format!("{text} {unit}")
}
