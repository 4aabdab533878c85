# Two commands carry the project: `make demo` and `make test`. `make help` lists the rest.
SHELL := /bin/bash
.SHELLFLAGS := -eu -o pipefail -c
.DELETE_ON_ERROR:
.DEFAULT_GOAL := help

VENV := .venv
BIN := $(VENV)/bin
SITE := .build/_build/html
DEMO := demo
export PIP_DISABLE_PIP_VERSION_CHECK := 1

# The newest supported interpreter on the machine, or the one given as PYTHON=...
PYTHON ?= $(shell for p in python3.13 python3.12 python3.11 python3 python; do \
	command -v $$p >/dev/null 2>&1 && $$p -c 'import sys; sys.exit(not (3, 11) <= sys.version_info < (3, 14))' 2>/dev/null \
	&& { echo $$p; exit; }; done)

.PHONY: help
help: ## list what can be made
	@grep -hE '^[a-z-]+:.*## ' $(MAKEFILE_LIST) | sed -E 's/^([a-z-]+):.*## (.*)/  make \1\t\2/' | expand -t 22

# pip tells a line a package; count them into one moving line
define install
	@echo "Installing $(1) (a minute or two; nothing outside this folder is changed)"
	@total=$$(grep -c '==' $(2)); if [ -t 1 ]; then every=1; end='\r'; else every=40; end='\n'; fi; \
	$(BIN)/pip install --require-hashes -r $(2) 2> $(VENV)/pip.log \
	  | awk -v total=$$total -v every=$$every -v end="$$end" \
	    '/^(Collecting|Requirement already)/ && ++n % every == 0 { printf "  %d of at most %d packages" end, n, total; fflush() } \
	     /^Installing collected/ { printf "  unpacking %d packages ...       \n", n; fflush() }' \
	  || { cat $(VENV)/pip.log; echo "The installation failed; the lines above say why. Run the same command again to go on."; exit 1; }
endef

$(VENV)/pyvenv.cfg:
	@[ -n "$(PYTHON)" ] || { echo "Pedalwright needs Python 3.11, 3.12 or 3.13, found none. Install one (Debian: apt-get install python3 python3-venv), or name it: make PYTHON=/path/to/python3.12 ..."; exit 1; }
	@$(PYTHON) -m venv $(VENV) || { rm -rf $(VENV); echo "Python could not make a virtual environment. On Debian: apt-get install python3-venv, then run the same command again."; exit 1; }

$(VENV)/.run: requirements/build.lock requirements/run.lock pyproject.toml | $(VENV)/pyvenv.cfg
	@$(BIN)/pip install -q --require-hashes -r requirements/build.lock 2> $(VENV)/pip.log || { cat $(VENV)/pip.log; exit 1; }
	$(call install,Pedalwright,requirements/run.lock)
	@$(BIN)/pip install -q --no-build-isolation --no-deps -e . 2> $(VENV)/pip.log || { cat $(VENV)/pip.log; exit 1; }
	@touch $@

$(VENV)/.test: requirements/test.lock $(VENV)/.run
	$(call install,the test tools,requirements/test.lock)
	@touch $@

.PHONY: setup setup-test
setup: $(VENV)/.run ## make the environment in .venv
setup-test: $(VENV)/.test ## the same, with the test tools

# what the tests need beside Python: Debian package, and the command or file that tells it is there
TOOLS := chromium:chromium hunspell:hunspell hunspell-en-gb:/usr/share/hunspell/en_GB.dic bubblewrap:bwrap postgresql:/usr/lib/postgresql/*/bin/initdb

.PHONY: tools
tools: # installed only as root, otherwise their names are told
	@missing=; for tool in $(TOOLS); do name=$${tool%%:*}; sign=$${tool#*:}; \
	  if [ $$name = chromium ] && { [ -n "$${PEDALWRIGHT_CHROMIUM:-}" ] || command -v chromium-browser google-chrome >/dev/null; }; then continue; fi; \
	  [ -e $$sign ] || command -v $$sign >/dev/null 2>&1 || missing="$$missing $$name"; done; \
	[ -n "$$missing" ] || exit 0; \
	if [ "$$(id -u)" = 0 ] && command -v apt-get >/dev/null 2>&1; then \
	  echo "Installing for the tests:$$missing"; apt-get update -qq; \
	  DEBIAN_FRONTEND=noninteractive apt-get install -y -qq --no-install-recommends $$missing fonts-dejavu-core >/dev/null; \
	else echo "The tests need these Debian packages: apt-get install$$missing (for another Chromium set PEDALWRIGHT_CHROMIUM to its path), then run make test again."; exit 1; fi

.PHONY: frames practice book
practice: $(VENV)/.run ## draw the practice cases that the book shows
	@$(BIN)/python -m pedalwright_app.practice .build/practice

frames: $(VENV)/.run ## draw the pictures of the benches (only those that changed)
	@$(BIN)/python -m pedalwright_bench.frames .build/static/benches

book: frames practice ## build the book into .build/_build/html
	@echo "Building the book"
	@PEDALWRIGHT_BOOK=1 $(BIN)/jupyter-book build book --all -W -n -q --config _config.yml --path-output .build > .build/book.log 2>&1 \
	  || { cat .build/book.log; exit 1; }
	@echo "The book: $(SITE)/index.html"

.PHONY: pack
pack: book ## print hand-outs and plans for a workshop into .build/pack (needs Chromium)
	@$(BIN)/pedalwright pack .build/pack

.PHONY: study
study: book ## open the course with figures that calculate; stop it with Ctrl-C
	@$(BIN)/pedalwright study --book $(SITE)

.PHONY: demo
demo: book ## build the book and run the invented cohort from roster to award
	@$(BIN)/pedalwright demo $(DEMO) --book "file://$(CURDIR)/$(SITE)"
	@echo "The book: $(SITE)/index.html"

.PHONY: lint test
lint: $(VENV)/.test ## style, types and import directions
	@$(BIN)/ruff check . && $(BIN)/ruff format --check . && $(BIN)/mypy && $(BIN)/lint-imports

test: $(VENV)/.test tools lint book ## everything that must hold, browser included
	@$(BIN)/pytest -n auto --dist loadgroup

.PHONY: bench lock clean
bench: $(VENV)/.test ## the benchmarks: ratios measured side by side
	@for script in benchmarks/*.py; do echo; echo "== $$script"; $(BIN)/python $$script; done

lock: ## renew the locked versions (needs the tool uv)
	@for set in "--extra test -o requirements/test.lock" "-c requirements/test.lock -o requirements/run.lock"; do \
	  uv pip compile -q --upgrade --universal --python-version 3.11 --generate-hashes --no-emit-index-url pyproject.toml $$set; done
	@printf 'hatchling>=1.27\neditables>=0.5\n' | uv pip compile -q --upgrade --universal --python-version 3.11 --generate-hashes --no-emit-index-url - -o requirements/build.lock

clean: ## remove what was built (the environment stays)
	@rm -rf .build $(DEMO)
