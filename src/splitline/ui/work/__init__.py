"""The fitter's screen: one instruction at a time, from the plan and the record.

``desk`` holds plan, record and claims and carries acts out; ``task`` says what is to be done now; the screens only show
a task and pass taps on.
"""
