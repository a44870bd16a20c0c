# Everything a contributor or a first-time user runs. `make` alone lists the targets.
# On a machine with only Python 3.11 or later, pip, git and make, each target sets up what it needs.
.DEFAULT_GOAL := help
SHELL := /bin/bash
# Files of tests are dealt out to the cores (each core holds its own recognizer: some 3 GB), in order: what a file sets
# up is set up once.
DEAL := -n auto --maxprocesses 4 --dist loadfile --no-loadscope-reorder
.SHELLFLAGS := -eu -o pipefail -c
.PHONY: help setup system demo test quick lint bench audio training teaching lock wheel clean

PYTHON ?= $(shell for p in python3 python3.13 python3.12 python3.11; do \
  if "$$p" -c 'import sys; sys.exit(sys.version_info < (3, 11))' 2>/dev/null; then echo $$p; break; fi; done)
VENV := .venv
BIN := $(VENV)/bin
STAMP := $(VENV)/.setup-done
AUDIO_STAMP := $(VENV)/.audio-done
TRAINING_STAMP := $(VENV)/.training-done
# Debian packages that tests use: synthetic voices, recorded human speech with its words, a browser, a database.
SYSTEM := flite espeak-ng pocketsphinx-testdata chromium postgresql openssl
# What `make training` needs beside them: further synthetic voices, and everyday sentences.
TRAINING_SYSTEM := flite espeak-ng festival festvox-kallpc16k festvox-kdlpc16k festvox-us-slt-hts wordnet-base
PIP_INSTALL = $(PYTHON) -m pip --python $(BIN)/python install --quiet --disable-pip-version-check
UV_COMPILE = $(BIN)/uv pip compile --quiet --universal --python-version 3.11 --fork-strategy fewest --generate-hashes \
  --no-emit-index-url --no-header --no-annotate

help:  ## list the targets
	@awk -F ':.*## ' '/^[a-z-]+:.*## / {printf "  make %-8s %s\n", $$1, $$2}' $(MAKEFILE_LIST)

setup: $(STAMP)  ## make .venv with every dependency, locked and checked by hash

$(STAMP): requirements.lock pyproject.toml
	@if [ -z "$(PYTHON)" ]; then echo "Python 3.11 or later is needed and none was found; install it, or name it: make PYTHON=/path/to/python"; exit 2; fi
	@echo "Setting up $(VENV) (once; a few minutes, most of it the recognizer's weights)"
	@[ -x $(BIN)/python ] || $(PYTHON) -m venv --without-pip $(VENV)
	@$(PIP_INSTALL) --require-hashes -r requirements.lock
	@$(PIP_INSTALL) --no-deps --no-build-isolation -e .
	@touch $@

$(AUDIO_STAMP): requirements-audio.lock $(STAMP)
	@$(PIP_INSTALL) --require-hashes -r requirements-audio.lock
	@touch $@

$(TRAINING_STAMP): requirements-training.lock $(STAMP)
	@$(PIP_INSTALL) --require-hashes -r requirements-training.lock
	@touch $@

system:
	@if ! command -v dpkg-query >/dev/null; then \
	  echo "This is no Debian: what needs one of $(SYSTEM) will say so and be skipped"; exit 0; fi; \
	missing=""; for package in $(SYSTEM); do \
	  dpkg-query -W -f '$${Status}' "$$package" 2>/dev/null | grep -q "ok installed" || missing="$$missing $$package"; done; \
	if [ -n "$$missing" ]; then \
	  root=""; [ "$$(id -u)" = 0 ] || root="sudo -n"; \
	  if [ -n "$$root" ] && ! $$root true 2>/dev/null; then \
	    echo "These Debian packages are needed and may not be installed from here; install them first:$$missing"; exit 2; fi; \
	  echo "Installing Debian packages:$$missing"; \
	  { $$root apt-get update && $$root env DEBIAN_FRONTEND=noninteractive apt-get install -y --no-install-recommends $$missing; } \
	    >/dev/null 2>&1 </dev/null || { echo "apt-get could not install$$missing; install them first"; exit 2; }; \
	fi

demo: $(STAMP)  ## the main job on a demo recording: sound in, checked case record out
	@$(BIN)/extractor demo

test: $(STAMP) system  ## every test (installs the Debian packages they need, where allowed)
	@$(BIN)/python -m pytest $(DEAL)

quick: $(STAMP)  ## the tests that need neither recognizer nor browser
	@$(BIN)/python -m pytest $(DEAL) -m "not speech and not browser"

lint: $(STAMP)  ## style and types, both strict
	@$(BIN)/ruff check .
	@$(BIN)/mypy

bench: $(STAMP)  ## speed, memory and start-up, each beside a plain library doing the same
	@$(BIN)/python -m benchmarks

audio: $(AUDIO_STAMP) system  ## remake the demo recordings from their scripts
	@$(BIN)/python audio_demo/make_audio.py

training: SYSTEM := $(TRAINING_SYSTEM)
training: $(TRAINING_STAMP) system  ## install the voices that the speech test set and training/ need

teaching: training  ## install PyTorch as well, for training on a GPU
	@$(PIP_INSTALL) --require-hashes -r requirements-teaching.lock

lock: $(STAMP)  ## resolve the dependencies anew
	@$(BIN)/python -c "import uv" 2>/dev/null || $(PIP_INSTALL) uv
	@$(UV_COMPILE) --upgrade --extra review --extra dev pyproject.toml -o requirements.lock
	@$(UV_COMPILE) --upgrade --extra audio -c requirements.lock pyproject.toml -o requirements-audio.lock
	@$(UV_COMPILE) --upgrade --extra training -c requirements.lock pyproject.toml -o requirements-training.lock
	@$(UV_COMPILE) --upgrade --extra teaching -c requirements-training.lock -c requirements.lock pyproject.toml \
	  -o requirements-teaching.lock
	@! grep -n "://" requirements*.lock || { echo "a lock names an address; it must not"; exit 1; }

wheel: $(STAMP)  ## build the wheel into dist/
	@$(BIN)/python -m build --wheel --no-isolation --outdir dist .

clean:  ## remove what was built (.venv stays; delete it by hand)
	@rm -rf build dist .out .demo .pytest_cache .mypy_cache .ruff_cache .hypothesis
	@find . -name __pycache__ -not -path "./$(VENV)/*" -prune -exec rm -rf {} +
