#!/usr/bin/env bash
# Works out the words of the fixture programs by a reader that shares nothing with the assembler.
exec python3 "$(dirname "${BASH_SOURCE[0]}")/../fixtures/check_words.py"
