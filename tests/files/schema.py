"""Which of some JSON values the schema accepts, by the Python package `jsonschema`."""

import json
import sys

from jsonschema import Draft202012Validator

question = json.load(sys.stdin)
Draft202012Validator.check_schema(question["schema"])
validator = Draft202012Validator(question["schema"])
json.dump([next((error.json_path for error in validator.iter_errors(value)), None)
           for value in question["values"]], sys.stdout)
