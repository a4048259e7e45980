"""Builds every example once."""

import pytest

from harness import ROOT, build


@pytest.fixture(scope="session")
def examples(tmp_path_factory):
    """{example name: its output folder}"""
    built = {}
    for folder in sorted((ROOT / "examples").iterdir()):
        source = folder / f"{folder.name}.fell"
        if source.exists():
            built[folder.name] = tmp_path_factory.mktemp(folder.name)
            build(source, built[folder.name])
    assert len(built) >= 4
    return built
