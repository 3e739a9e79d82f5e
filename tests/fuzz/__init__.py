"""The fuzzer: texts that nobody would write, changed after what the code does with them.

`python -m tests.fuzz` tries them on every target, `python -m tests.fuzz check reader --seconds 600` on two.
It needs a fuzzing engine: `pip install -e '.[fuzz]'`. What it finds it makes small and puts into `found/`,
where the quick tests try it ever after.
"""
