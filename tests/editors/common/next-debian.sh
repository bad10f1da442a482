# Newer editors than the system's: the next Debian release's packages, unpacked beside the system and run with their own loader. The system's
# package lists and files stay untouched. next_debian PACKAGE... fills $next.
next=${RELIST_EDITOR_CACHE:-/tmp/relist-editors}/next-debian

next_debian() {
  local mirror options missing=()
  mkdir -p "$next"/apt/{lists,cache/archives}/partial "$next/root" "$next/have"
  for package in "$@"; do [ -e "$next/have/$package" ] || missing+=("$package"); done
  [ "${#missing[@]}" -eq 0 ] && return
  # The mirror that the machine itself uses.
  mirror=$(grep -rhoE 'https?://[^ ]+/debian/?( |$)' /etc/apt/sources.list /etc/apt/sources.list.d/ 2>/dev/null | head -n 1)
  echo "deb [signed-by=/usr/share/keyrings/debian-archive-keyring.gpg] $mirror trixie main" >"$next/apt/sources.list"
  : >"$next/apt/status"
  options=(-o "Dir::Etc::sourcelist=$next/apt/sources.list" -o Dir::Etc::sourceparts=- -o "Dir::State::lists=$next/apt/lists"
    -o "Dir::State::status=$next/apt/status" -o "Dir::Cache=$next/apt/cache" -o APT::Install-Recommends=0 -o APT::Sandbox::User=root
    -o Acquire::IndexTargets::deb::DEP-11::DefaultEnabled=false -o Debug::NoLocking=1)
  {
    apt-get "${options[@]}" update -qq && apt-get "${options[@]}" install -y --download-only "${missing[@]}" &&
      for package in "$next"/apt/cache/archives/*.deb; do dpkg -x "$package" "$next/root" || return 1; done
  } >"$work/next-debian.log" 2>&1 || { not_ok "unpack $* of the next Debian release"; exit; }
  for package in "${missing[@]}"; do : >"$next/have/$package"; done
}

# Writes a command of this name into $work/bin, for scripts and terminals: next_command NAME 'VARIABLE=VALUE ...'
next_command() {
  local libraries=$next/root/usr/lib/$(uname -m)-linux-gnu
  cat >"$work/bin/$1" <<END
#!/usr/bin/env bash
export ${2:-RELIST_TEST=1}
exec "$libraries"/ld-linux-*.so.* --library-path "$libraries" "$next/root/usr/bin/$1" "\$@"
END
  chmod +x "$work/bin/$1"
}
