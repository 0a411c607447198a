#include "scratch.h"

#include "cli/read/data_folder.h"

#include <algorithm>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <sstream>
#include <stdexcept>

#include <sys/wait.h>

namespace easewright::tests {
namespace fs = std::filesystem;
namespace {

std::string quoted(const std::string& word) {
  std::string text = "'";
  for (const char c : word) text += c == '\'' ? "'\\''" : std::string(1, c);
  return text + "'";
}

/// Runs in `folder` and returns the exit code; -1 when a signal ended it.
int run_words(const std::string& folder,
              const std::string& environment,
              const std::vector<std::string>& arguments,
              const std::string& out,
              const std::string& err) {
  std::string command =
      "cd " + quoted(folder) + " && " + environment + " " + quoted(EASEWRIGHT_PROGRAM);
  for (const std::string& argument : arguments) command += " " + quoted(argument);
  command += " >" + quoted(out) + " 2>" + quoted(err) + " </dev/null";
  const int status = std::system(command.c_str());
  return WIFEXITED(status) ? WEXITSTATUS(status) : -1;
}

}  // namespace

Scratch::Scratch() {
  std::string pattern = (fs::temp_directory_path() / "easewright-test-XXXXXX").string();
  if (mkdtemp(pattern.data()) == nullptr) throw std::runtime_error("no scratch folder");
  folder_ = pattern;
}

Scratch::~Scratch() {
  std::error_code error;
  fs::remove_all(folder_, error);
}

std::string Scratch::write(const std::string& name, std::string_view bytes) const {
  const fs::path file = path(name);
  fs::create_directories(file.parent_path());
  std::ofstream(file, std::ios::binary) << bytes;
  return file.string();
}

std::vector<std::string> Scratch::files() const {
  std::vector<std::string> names;
  for (const auto& entry : fs::recursive_directory_iterator(folder_)) {
    if (entry.is_regular_file()) names.push_back(fs::relative(entry.path(), folder_).string());
  }
  std::sort(names.begin(), names.end());
  return names;
}

Ran run_program(const std::vector<std::string>& arguments,
                const std::string& folder,
                const std::string& environment) {
  const Scratch scratch;
  const std::string in = folder.empty() ? EASEWRIGHT_SOURCE_DIR : folder;
  const int code = run_words(in, environment, arguments, scratch.path("out"), scratch.path("err"));
  return {code, bytes_of(scratch.path("out")), bytes_of(scratch.path("err"))};
}

Ran run_program_into(const std::string& output, const std::vector<std::string>& arguments) {
  const Scratch scratch;
  const int code = run_words(EASEWRIGHT_SOURCE_DIR, "", arguments, output, scratch.path("err"));
  return {code, "", bytes_of(scratch.path("err"))};
}

std::string bytes_of(const std::string& path) {
  std::ifstream in(path, std::ios::binary);
  if (!in) throw std::runtime_error("can't read " + path);
  std::ostringstream bytes;
  bytes << in.rdbuf();
  return bytes.str();
}

std::vector<std::string> lines_of(std::string_view text) {
  std::vector<std::string> lines;
  while (!text.empty()) {
    const size_t end = std::min(text.find('\n'), text.size());
    lines.emplace_back(text.substr(0, end));
    text.remove_prefix(std::min(end + 1, text.size()));
  }
  return lines;
}

std::string choir_job(const std::string& name) {
  return std::string(EASEWRIGHT_SOURCE_DIR) + "/data/choir/jobs/" + name + ".yaml";
}

std::vector<std::string> demo_jobs() {
  std::vector<std::string> jobs =
      yaml_files(std::string(EASEWRIGHT_SOURCE_DIR) + "/data/choir/jobs");
  jobs.push_back(std::string(EASEWRIGHT_SOURCE_DIR) + "/data/examples/sample.yaml");
  return jobs;
}

bool soaking() {
  const char* flag = std::getenv("EASEWRIGHT_SOAK");
  return flag != nullptr && *flag != '\0' && *flag != '0';
}

}  // namespace easewright::tests
