#pragma once
// Every test reaches Catch2 through here: Catch2 2.13 and glog (through Ceres) both define CHECK, and
// the later include wins silently. Tests include ceres/jet.h at most.
#include <catch2/catch.hpp>

using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;
