#pragma once
// Cup classes from bust less underbust. The scales disagree, so each is named. Informative only:
// the bust angle goes by the difference itself.

#include <string>

namespace easewright {

/// Class and band of a brassiere scale. `cup` is empty when the difference is below the scale's
/// first class.
struct Cup {
  std::string cup;
  int band_cm = 0;  ///< underbust to the nearest 5 cm
};

/// EN 13402 (from memory; limits rule of a published help page): A over 12 up to 14, then a class
/// every 2 cm; AA over 10. Underbust bands 60, 65, ...: within 2.5 cm.
Cup en_cup(double bust_cm, double underbust_cm);

/// Japanese scale: A 10, B 12.5, C 15, D 17.5, each within 1.25 cm; AA 7.5, AAA 5.
Cup japanese_cup(double bust_cm, double underbust_cm);

}  // namespace easewright
