"""The resolved geometry against its published JSON Schema, with an independent validator."""

import json

import jsonschema

from harness import ROOT, resolved


def test_every_example_follows_the_schema(examples):
    schema = json.loads((ROOT / "grammar" / "ir.schema.json").read_text(encoding="utf-8"))
    validator = jsonschema.Draft202012Validator(schema)
    seen = 0
    for out in examples.values():
        for path, design in resolved(out).items():
            errors = [f"{path}: {e.json_path}: {e.message}" for e in validator.iter_errors(design)]
            assert not errors, errors[:5]
            seen += 1
    assert seen >= 4


def test_the_schema_refuses_what_is_not_a_design():
    schema = json.loads((ROOT / "grammar" / "ir.schema.json").read_text(encoding="utf-8"))
    assert not jsonschema.Draft202012Validator(schema).is_valid({"format": 1, "pieces": "none"})
