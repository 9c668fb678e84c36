"""Runs SCXML documents on Qt's engine: a line of JSON in with file and events, a line out with the states after each."""

import json
import sys

from PySide2.QtCore import QCoreApplication
from PySide2.QtScxml import QScxmlStateMachine

app = QCoreApplication([])


def settled(machine):
    """Events are taken by the loop; a few turns let every one that is waiting be taken."""
    for _ in range(4):
        app.processEvents()
    return sorted(machine.activeStateNames(True))


for line in sys.stdin:
    case = json.loads(line)
    machine = QScxmlStateMachine.fromFile(case["file"])
    errors = [error.toString() for error in machine.parseErrors()]
    states = []
    if not errors:
        machine.start()
        states.append(settled(machine))
        for event in case["events"]:
            machine.submitEvent(event)
            states.append(settled(machine))
    print(json.dumps({"errors": errors, "states": states}), flush=True)
    machine.stop()
