"""The tree is as DEVELOPERS.md draws it, and its names say something."""

from __future__ import annotations

import ast

FIXED = {"README.md", "DEVELOPERS.md", "pyproject.toml", "service", "schemas", "tests", "sample_sheets", "deploy"}
EMPTY_NAMES = {"util", "utils", "helper", "helpers", "common", "base", "manager", "managers", "misc"}
EMPTY_VERBS = ("get_", "calc_", "calculate_", "process_", "handle_")


def test_top_level_is_fixed(project_files):
    """Nothing stands at the top but the agreed folders and files, and dot-files."""
    tops = {file.path.parts[0] for file in project_files}
    assert {top for top in tops if not top.startswith(".")} == FIXED


def test_nothing_has_an_empty_name(project_files):
    """No file, folder or class is called by a word that fits anything."""
    parts = {(str(file), part.partition(".")[0]) for file in project_files for part in file.path.parts}
    assert [file for file, part in parts if part.lower() in EMPTY_NAMES] == []


def test_functions_are_named_for_facts_or_results(shipped_python):
    """No function of the program starts with a verb that says nothing; what a library calls back keeps its name."""
    named = [
        f"{file}: {node.name}"
        for file in shipped_python
        for node in ast.walk(file.tree)
        if isinstance(node, ast.FunctionDef) and node.name.lstrip("_").startswith(EMPTY_VERBS)
        if node not in called_back(file)
    ]
    assert named == []


def called_back(file):
    """Methods of a file's classes that extend a library's class."""
    classes = (node for node in ast.walk(file.tree) if isinstance(node, ast.ClassDef) and node.bases)
    return [node for each in classes for node in each.body]


def test_modules_fit_a_screenful_of_screens(python_files):
    """No module is longer than 400 lines: near that a stage becomes a folder."""
    long = {str(file): lines for file in python_files if (lines := (file.text or "").count("\n")) > 400}
    assert long == {}


def test_every_sample_is_in_the_table(root, project_files):
    """Each workbook in sample_sheets/ is named in its README, and each one named there exists."""
    table = (root / "sample_sheets" / "README.md").read_text("utf-8")
    workbooks = {
        file.path.name for file in project_files if file.is_in("sample_sheets") and file.path.suffix == ".xlsx"
    }
    named = {word.strip("`|[]()., ") for word in table.split() if ".xlsx" in word}
    assert len(workbooks) >= 4
    assert {name.rpartition("/")[2].rpartition("(")[2] for name in named} == workbooks


def test_readme_begins_with_the_job_and_ends_with_changes(root):
    """The first paragraph tells the job; the change list stands last and begins with what moves a price."""
    text = (root / "README.md").read_text("utf-8")
    first = next(part for part in text.split("\n\n") if not part.startswith("#"))
    assert "room sheet" in first
    assert "quote" in first
    headings = [line for line in text.splitlines() if line.startswith("#")]
    changes = max(place for place, heading in enumerate(headings) if heading.startswith("## "))
    assert headings[changes] == "## Changes"
    assert headings[changes + 1] == "### Moves a price"
