#pragma once
// The parts that every JSON document of ours is made of. Units are cm, deg, years and ratio
// whatever reports are written in.

#include "cli/write/judged.h"

#include <string>
#include <string_view>

#include <nlohmann/json.hpp>

namespace easewright {

using Json = nlohmann::ordered_json;

/// Rounded to a millionth, so that the last bits of a sum do not show; null where there is no
/// number or no limit.
Json number(double value);

/// 'cm', 'deg', 'years', 'ratio'.
std::string unit_name(Dimension d);

/// Angles leave as degrees, all else as it is inside.
Json outside(double value, Dimension d);

/// 'value' and 'unit'.
Json quantity(double value, Dimension d);

/// 'kind', 'name', 'side', 'at', 'unit', 'as got', 'text'.
Json participant_of(const Participant& participant, const Judged& judged);

/// 'file', 'job', 'style', 'cloth', 'fits'.
Json heading_of(const Judged& judged);

/// The text of a document: the schema's number and the command, then `rest`. Ends with a newline.
std::string document_of(std::string_view command, Json rest);

}  // namespace easewright
