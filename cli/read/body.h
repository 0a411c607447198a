#pragma once
// A body file, or a body written into its job:
//
//   body: alto 2
//   build: woman                          # woman, man or child
//   waist level: natural                  # natural, iso or navel: where the waist was taken
//   shoulder slope read from: silhouette  # bone, silhouette or garment
//   measures:
//     bust girth: 92 cm
//     hip girth: 98 cm +- 1 cm            # 1 s.d. of the tape; else the usual one of the measure
//     age: 34 years
//   garment that fits: ...                # in place of measures or beside them: worn.h

#include "cli/read/section.h"
#include "model/body/body.h"
#include "model/body/estimate.h"

#include <map>
#include <string>
#include <vector>

namespace easewright {

/// Where each of a body's measures was written, so that what the model says by key path gets its
/// line.
struct BodyPlaces {
  struct Spot {
    std::string file;
    Place place;
    std::string key_path;
  };
  Spot whole;
  std::map<std::string, Spot> measures;  ///< by the model's key path: 'measures.waist girth'

  const Spot& of(const std::string& model_key_path) const;
};

/// Whether a body has to bear its own name: in a file of its own it does.
enum class BodyName { required, optional };

/// Reads the body at `map`; complains of unknown, missing and refused values.
Body read_body(
    const YamlNode& map, std::string path, const Source& source, BodyName name, BodyPlaces& places);

/// Sets one measure from its text; complains otherwise.
void read_measure(const YamlNode& entry,
                  std::string_view path,
                  const Source& source,
                  Body& body,
                  BodyPlaces& places);

/// Turns the model's errors about a body into complaints; warnings and the rest are left for the
/// report.
void complain_of_body(const std::vector<BodyNote>& notes,
                      const BodyPlaces& places,
                      Complaints& complaints);

}  // namespace easewright
