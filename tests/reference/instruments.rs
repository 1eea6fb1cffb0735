//! The outside checkers themselves: each must be able to say no, or everything it is shown would pass.

use tests::tools;

const GOOD: &str =
    r#"{ "resourceType": "Patient", "id": "p1", "birthDate": "1951-05-17", "gender": "female" }"#;

/// Whether PyPI's `fhir.resources` accepts this Patient.
fn python_accepts(resource: &str) -> bool {
    let script = "import sys\n\
                  from fhir.resources.R4B.patient import Patient\n\
                  try:\n    Patient.model_validate_json(sys.argv[1])\n    print('accepted')\n\
                  except ValueError:\n    print('refused')\n";
    tools::run_python(script, &[resource]).trim() == "accepted"
}

/// Whether npm's `fhir` accepts this resource.
fn node_accepts(resource: &str) -> bool {
    let script = "const { Fhir } = require('fhir'); const found = new Fhir().validate(JSON.parse(process.argv[1]), \
                  { errorOnUnexpected: true }); console.log(found.valid ? 'accepted' : 'refused');";
    tools::run_node(script, &[resource]).trim() == "accepted"
}

#[test]
fn reference_both_fhir_checkers_refuse_what_each_is_trusted_with() {
    assert!(python_accepts(GOOD) && node_accepts(GOOD));
    // Each overlooks something, which is why both are used.
    assert!(!python_accepts(&GOOD.replace("1951-05-17", "17.05.1951")));
    assert!(!node_accepts(&GOOD.replace("female", "feminine")));
    let unknown = GOOD.replace("\"id\"", "\"nickname\": \"Ada\", \"id\"");
    assert!(!python_accepts(&unknown) && !node_accepts(&unknown));
}

#[test]
fn reference_the_heart_data_are_the_ones_described() {
    let text = std::fs::read_to_string(tools::open_data("heart_disease.tab")).unwrap();
    let mut lines = text.lines();
    let names: Vec<&str> = lines.next().unwrap().split('\t').collect();
    assert!(
        names.contains(&"age") && names.contains(&"max HR"),
        "{names:?}"
    );
    // Two more header lines say of which kind each column is. Source: 303 people in the set as published.
    assert_eq!(
        lines.skip(2).filter(|line| !line.trim().is_empty()).count(),
        303
    );
}
