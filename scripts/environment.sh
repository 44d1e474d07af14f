# shellcheck shell=bash
# Makes .venv on first use, and again when the locked requirements change.
environment() {
  local lock=$1 stamp=.venv/.installed-$1 python=${PYTHON:-python3}
  if [ ! -x .venv/bin/python ]; then
    "$python" -c 'import sys; sys.exit(sys.version_info < (3, 11))' || {
      echo "bedwright needs Python 3.11 or newer; this is $("$python" --version)." >&2
      echo "Set PYTHON to a newer one: PYTHON=python3.12 $0" >&2
      exit 2
    }
    echo "Making .venv (once)..." >&2
    "$python" -m venv .venv
  fi
  if ! cmp -s "$lock" "$stamp"; then
    echo "Installing what $lock names (once)..." >&2
    .venv/bin/python -m pip install --quiet --disable-pip-version-check --require-hashes --no-deps -r "$lock"
    .venv/bin/python -m pip install --quiet --disable-pip-version-check --no-deps --no-build-isolation --editable .
    cp "$lock" "$stamp"
  fi
}
