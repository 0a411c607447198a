#!/bin/sh
# The arrows run cli -> model -> solver, never back; solver/ and model/ know no file and no terminal; Ceres beyond its
# jets stays in solver/ and, for what is least squares proper, in model/alter/. Prints every line that breaks this and fails.
set -eu
cd "$(dirname "$0")/.."
bad=0
forbid() { # folder, pattern, reason
  if grep -rnE --include='*.h' --include='*.cc' "^ *# *include *[<\"]($2)" "$1"; then
    echo "$1/: $3" >&2
    bad=1
  fi
}
files='iostream|fstream|filesystem|cstdio|stdio\.h|yaml-cpp/|CLI/|nlohmann/'
forbid solver '(\.\./)*(model|cli|tests)/' 'an include points upwards'
forbid model '(\.\./)*(cli|tests)/' 'an include points upwards'
forbid cli '(\.\./)*tests/' 'an include points to the tests'
forbid solver "$files" 'knows no file and no terminal'
forbid model "$files" 'knows no file and no terminal'
forbid model/body 'ceres/(ceres|solver|problem|cost_function)\.h' 'least squares are the solver'"'"'s, and in alter/'
forbid model/garment 'ceres/(ceres|solver|problem|cost_function)\.h' 'least squares are the solver'"'"'s, and in alter/'
forbid model/rules 'ceres/(ceres|solver|problem|cost_function)\.h' 'least squares are the solver'"'"'s, and in alter/'
forbid cli 'ceres/|glog/' 'Ceres is the solver'"'"'s'
for header in $(grep -rlE --include='*.h' '^ *# *include *[<"](ceres/ceres|glog/)' solver model cli || true); do
  echo "$header: Ceres appears in .cc files only" >&2
  bad=1
done
exit "$bad"
