#pragma once
// What is wrong with the user's input, said in one line each: where, which key, what was found,
// what is allowed, and a likely fix. Readers go on after a complaint so that all of them are said
// at once.
//
//   bodies/alto-2.yaml:12:16: measures.waist girth: 720 cm is outside 40-180 cm (did you mean 72
//   cm?)

#include <string>
#include <string_view>
#include <vector>

namespace easewright {

/// Line and byte column, from 1. Line 0: the place is not in a file (a command line, a folder).
struct Place {
  int line = 0;
  int column = 0;
};

struct Complaint {
  std::string file;  ///< as the user would name it; '--wish' for an option
  Place place;
  std::string key_path;  ///< 'measures.waist girth'; empty when the whole file is meant
  std::string text;
};

/// One line, without a newline.
std::string to_string(const Complaint& complaint);

class Complaints {
 public:
  void add(std::string_view file, Place place, std::string_view key_path, std::string_view text);

  bool empty() const { return all_.empty(); }
  size_t size() const { return all_.size(); }

  /// Files in the order in which they were first complained of, lines in order within a file; each
  /// line once, however many jobs share a slip of the command line.
  std::vector<Complaint> in_order() const;

 private:
  std::vector<Complaint> all_;
};

/// A file that is being read, and where its complaints go. What readers pass along.
struct Source {
  std::string file;
  Complaints& complaints;

  void complain(Place place, std::string_view key_path, std::string_view text) const {
    complaints.add(file, place, key_path, text);
  }
};

}  // namespace easewright
