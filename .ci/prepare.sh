# Sourced by cli/run, tests/run and .ci/run (POSIX sh). Needs $source: the project's folder.

# Installs what .ci/packages lists and the machine lacks. Silent and quick when nothing is missing.
install_missing() {
  wanted=$(sed 's/#.*//' "$source/.ci/packages" | tr -s '\n\t ' ' ')
  # shellcheck disable=SC2086 # a list of words
  present=$(dpkg-query -W -f '${db:Status-Status} ${Package}\n' $wanted 2>/dev/null | sed -n 's/^installed //p')
  missing=
  for package in $wanted; do
    case "
$present
" in
      *"
$package
"*) ;;
      *) missing="$missing $package" ;;
    esac
  done
  [ -z "$missing" ] && return 0
  echo "Installing:$missing" >&2
  if [ "$(id -u)" -eq 0 ]; then
    as_root=
  elif command -v sudo >/dev/null; then
    as_root=sudo
  else
    echo "These packages are missing and only root can install them:$missing" >&2
    return 1
  fi
  # shellcheck disable=SC2086
  {
    $as_root env DEBIAN_FRONTEND=noninteractive apt-get -qq update &&
      $as_root env DEBIAN_FRONTEND=noninteractive apt-get -qq install -y --no-install-recommends $missing
  } >&2
}

# Configures .build/$1 once, from the preset of that name, with further arguments.
configure() {
  preset=$1
  shift
  [ -f "$source/.build/$preset/build.ninja" ] && [ $# -eq 0 ] && return 0
  launcher=
  command -v ccache >/dev/null && launcher=-DCMAKE_CXX_COMPILER_LAUNCHER=ccache
  # A log is only shown when something fails.
  mkdir -p "$source/.build"
  # shellcheck disable=SC2086
  if ! (cd "$source" && cmake --preset "$preset" $launcher "$@") >"$source/.build/$preset.log" 2>&1; then
    cat "$source/.build/$preset.log" >&2
    return 1
  fi
}

# Builds targets in .build/$1.
build() {
  preset=$1
  shift
  if ! ninja -C "$source/.build/$preset" "$@" >"$source/.build/$preset.log" 2>&1; then
    cat "$source/.build/$preset.log" >&2
    return 1
  fi
  # Warnings are worth a look even when the build goes on.
  grep -A 6 'warning:' "$source/.build/$preset.log" >&2 || true
}

# What fontconfig keeps for the life of a process is no leak of ours; only a sanitizers' build reads this.
export LSAN_OPTIONS="suppressions=$source/.ci/leaks.supp:print_suppressions=0"
