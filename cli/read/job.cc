#include "cli/read/job.h"

#include "cli/read/cloth.h"
#include "cli/read/data_folder.h"
#include "cli/read/nearest.h"
#include "cli/read/overrides.h"
#include "cli/read/style.h"
#include "cli/read/switches.h"
#include "cli/read/wish.h"

#include <algorithm>

#include <fmt/format.h>

namespace easewright {
namespace {

/// A part of the job that stands in a file of its own or in the job: its map, its source, and its
/// path there.
struct Part {
  YamlNode loaded;  ///< kept alive for `map`
  const YamlNode* map = nullptr;
  Source source;
  std::string path;
};

/// Loads what a reference names. A bare name is looked up in the room of the data folder; an empty
/// room has no names.
void load_part(const std::string& reference,
               const std::string& relative_to,
               const std::string& data_folder,
               const std::string& room,
               const AskedFrom& asked_from,
               Part& part) {
  Complaints& complaints = part.source.complaints;
  std::string path;
  if (is_path(reference)) {
    path = beside(relative_to, reference);
  } else if (room.empty()) {
    complaints.add(asked_from.file,
                   asked_from.place,
                   asked_from.key_path,
                   fmt::format("'{}' is no path to a .yaml file", reference));
    return;
  } else {
    const auto names = names_in(data_folder, room);
    if (std::find(names.begin(), names.end(), reference) == names.end()) {
      complaints.add(
          asked_from.file,
          asked_from.place,
          asked_from.key_path,
          fmt::format(
              "there is no '{}' among the {}{}", reference, room, suggestion(reference, names)));
      return;
    }
    path = path_of_name(data_folder, room, reference);
  }
  auto node = load_yaml(path, complaints, asked_from);
  if (!node) return;
  part.loaded = std::move(*node);
  part.map = &part.loaded;
  part.source.file = path;
}

class JobReader {
 public:
  JobReader(const std::string& data_folder,
            const Overrides& overrides,
            Complaints& complaints,
            LoadedJob& loaded)
      : data_folder_(data_folder),
        overrides_(overrides),
        source_{loaded.file, complaints},
        loaded_(loaded),
        job_(loaded.job) {}

  void read(const YamlNode& map, Draft draft, Wearer wearer) {
    Section section(map, "", source_);
    job_.label = section.need_text("job").value_or("");
    section.find_text("about");
    read_body_of(section, wearer);
    read_cloth_of(section);
    read_style_of(section);
    if (const YamlNode* switches = section.find_filled("switches"))
      read_switches(*switches, "switches", source_, job_.style);
    if (const YamlNode* wishes = section.find_filled("wishes"))
      job_.wishes = read_wishes(*wishes, "wishes", source_);
    if (const auto unit = section.find_word("units", {"cm", "in"}))
      job_.unit = static_cast<LengthUnit>(*unit);
    const YamlNode* values =
        draft == Draft::required ? section.need("draft") : section.find("draft");
    if (values != nullptr) read_draft(*values);
    if (const YamlNode* allowances = section.find("allowances")) loaded_.allowances = *allowances;
    if (const YamlNode* made = section.find("made")) loaded_.made = *made;
    if (const YamlNode* faults = section.find("faults")) loaded_.faults = *faults;
    section.finish();
  }

 private:
  /// The part that `node` gives, inline or by reference; an override from the command line goes
  /// before both.
  Part find_part(const YamlNode* node,
                 const char* key,
                 const std::string& room,
                 const std::optional<std::string>& override) {
    Part part{{}, nullptr, source_, key};
    if (override) {
      load_part(*override, "", data_folder_, room, {"--" + std::string(key), {}, ""}, part);
      part.path.clear();
    } else if (node == nullptr) {
      return part;
    } else if (node->kind == YamlNode::Kind::text) {
      load_part(
          node->text, source_.file, data_folder_, room, {source_.file, node->place, key}, part);
      part.path.clear();
    } else if (expect_kind(*node, YamlNode::Kind::map, key, source_)) {
      part.map = node;
    }
    return part;
  }

  void read_body_of(Section& section, Wearer wearer) {
    const YamlNode* node = wearer == Wearer::required ? section.need("body") : section.find("body");
    const Part part = find_part(node, "body", "", std::nullopt);
    if (part.map == nullptr) return;
    const BodyName name = part.path.empty() ? BodyName::required : BodyName::optional;
    job_.body = read_body(*part.map, part.path, part.source, name, loaded_.places);
    if (job_.body.label.empty()) job_.body.label = job_.label;
  }

  void read_cloth_of(Section& section) {
    const YamlNode* node = overrides_.cloth ? section.find("cloth") : section.need("cloth");
    const Part part = find_part(node, "cloth", "cloths", overrides_.cloth);
    if (part.map != nullptr) job_.cloth = read_cloth(*part.map, part.path, part.source);
  }

  void read_style_of(Section& section) {
    const YamlNode* node = overrides_.style ? section.find("style") : section.need("style");
    const Part part = find_part(node, "style", "styles", overrides_.style);
    if (part.map != nullptr) job_.style = read_style(*part.map, part.path, part.source);
  }

  void read_draft(const YamlNode& map) {
    Section section(map, "draft", source_);
    for (const YamlNode* entry : section.entries()) {
      const std::string path = section.path_to(entry->key);
      const auto key = value_named(entry->key, entry->key_place, path, source_);
      const auto value =
          key ? quantity_of(*entry, path, source_, info(*key).dimension) : std::nullopt;
      if (value) job_.draft.emplace_back(*key, *value);
    }
  }

  const std::string& data_folder_;
  const Overrides& overrides_;
  Source source_;
  LoadedJob& loaded_;
  Job& job_;
};

}  // namespace

std::optional<LoadedJob> read_job(const std::string& file,
                                  const std::string& data_folder,
                                  const Overrides& overrides,
                                  Draft draft,
                                  Complaints& complaints,
                                  Wearer wearer) {
  const size_t before = complaints.size();
  LoadedJob loaded;
  loaded.file = file;
  const auto map = load_yaml(file, complaints, {file, {}, ""});
  if (!map) return std::nullopt;
  JobReader(data_folder, overrides, complaints, loaded).read(*map, draft, wearer);
  apply_overrides(overrides, complaints, loaded);
  if (complaints.size() > before) return std::nullopt;
  return loaded;
}

}  // namespace easewright
