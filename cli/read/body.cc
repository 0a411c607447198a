#include "cli/read/body.h"

#include "cli/read/nearest.h"
#include "cli/read/quantity.h"
#include "cli/read/worn.h"
#include "model/body/sanity.h"

#include <algorithm>

#include <fmt/format.h>

namespace easewright {
namespace {

std::string model_path(BodyKey key) { return "measures." + spoken(info(key).id); }

std::vector<std::string> body_names() {
  std::vector<std::string> names;
  names.reserve(kBodyKeys);
  for (int i = 0; i < kBodyKeys; ++i) names.push_back(spoken(info(static_cast<BodyKey>(i)).id));
  return names;
}

bool any_at_the_waist(const Body& body) {
  for (int i = 0; i < kBodyKeys; ++i) {
    const auto key = static_cast<BodyKey>(i);
    if (depends_on_waist_level(key) && body[key]) return true;
  }
  return false;
}

void read_measures(
    const YamlNode& map, std::string path, const Source& source, Body& body, BodyPlaces& places) {
  Section section(map, std::move(path), source);
  for (const YamlNode* entry : section.entries()) {
    read_measure(*entry, section.path_to(entry->key), source, body, places);
  }
}

/// A waist or a slope that does not say how it was read would be taken for another: 4 to 7 cm, 3 to
/// 6 deg apart.
void ask_how_it_was_read(const Section& section,
                         const YamlNode* level,
                         const YamlNode* slope,
                         const Body& body) {
  if (level == nullptr && any_at_the_waist(body)) {
    section.source().complain(section.place(),
                              "",
                              "the key 'waist level' is missing: natural, iso or navel, where the "
                              "waist measures were taken");
  }
  if (slope == nullptr && body[BodyKey::shoulder_slope]) {
    section.source().complain(
        section.place(),
        "",
        "the key 'shoulder slope read from' is missing: bone, silhouette or garment");
  }
}

}  // namespace

const BodyPlaces::Spot& BodyPlaces::of(const std::string& model_key_path) const {
  const auto found = measures.find(model_key_path);
  return found == measures.end() ? whole : found->second;
}

void read_measure(const YamlNode& entry,
                  std::string_view path,
                  const Source& source,
                  Body& body,
                  BodyPlaces& places) {
  const auto key = find_body_key(entry.key);
  if (!key) {
    source.complain(entry.key_place,
                    path,
                    "there is no such body measure" + suggestion(entry.key, body_names()));
    return;
  }
  const auto text = text_of(entry, path, source);
  if (!text) return;
  std::string why;
  const auto measured = parse_measured(*text, info(*key).dimension, why);
  if (!measured) {
    source.complain(entry.place, path, why);
    return;
  }
  if (measured->sd && *measured->sd > 0.25 * (info(*key).most - info(*key).least)) {
    source.complain(entry.place, path, "the error after '+-' is too large to say anything");
    return;
  }
  body[*key] =
      BodyValue{measured->value, measured->sd.value_or(info(*key).default_sd), Origin::measured};
  places.measures[model_path(*key)] = {source.file, entry.place, std::string(path)};
}

Body read_body(const YamlNode& map,
               std::string path,
               const Source& source,
               BodyName name,
               BodyPlaces& places) {
  Body body;
  places.whole = {source.file, map.place, path};
  Section section(map, std::move(path), source);
  const auto label =
      name == BodyName::required ? section.need_text("body") : section.find_text("body");
  body.label = label.value_or("");
  section.find_text("about");
  if (section.need("build") != nullptr) {
    if (const auto build = section.find_word("build", {"woman", "man", "child"}))
      body.build = static_cast<Build>(*build);
  }
  const YamlNode* level = section.find("waist level");
  if (const auto at = section.find_word("waist level", {"natural", "iso", "navel"})) {
    body.waist_level = static_cast<WaistLevel>(*at);
  }
  const YamlNode* slope = section.find("shoulder slope read from");
  if (const auto at =
          section.find_word("shoulder slope read from", {"bone", "silhouette", "garment"})) {
    body.slope_reading = static_cast<SlopeReading>(*at);
  }
  const YamlNode* worn = section.find_filled("garment that fits");
  if (worn != nullptr)
    read_garments_that_fit(*worn, section.path_to("garment that fits"), source, body);
  const YamlNode* measures =
      worn != nullptr ? section.find_filled("measures") : section.need("measures");
  if (measures != nullptr) {
    read_measures(*measures, section.path_to("measures"), source, body, places);
    ask_how_it_was_read(section, level, slope, body);
  }
  section.finish();
  std::vector<BodyNote> notes;
  refuse_values(body, nullptr, notes);
  complain_of_body(notes, places, source.complaints);
  return body;
}

void complain_of_body(const std::vector<BodyNote>& notes,
                      const BodyPlaces& places,
                      Complaints& complaints) {
  for (const BodyNote& note : notes) {
    if (note.kind != BodyNote::Kind::error) continue;
    const BodyPlaces::Spot& spot = places.of(note.key_path);
    complaints.add(spot.file, spot.place, spot.key_path, note.text);
  }
}

}  // namespace easewright
