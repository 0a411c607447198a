#include "cli/write/alter.h"
#include "cli/write/alter_paper.h"
#include "cli/write/html_page.h"
#include "cli/write/markup.h"

#include <fmt/format.h>

namespace easewright {
namespace {

/// The page's: steps stand in a frame as the sewing slip's do, checks with a box to tick.
class HtmlPaper : public AlterPaper {
 public:
  HtmlPaper(Markup& page, const std::string& figure) : page_(page), figure_(figure) {}
  HtmlPaper(const HtmlPaper&) = delete;

  void title(const std::string& text) override { page_.element("h1", text); }

  void verdict(const std::string& head, const std::string& rest, Tone tone) override {
    page_.open(tone == Tone::good ? "div class=\"verdict\"" : "div class=\"verdict missed\"");
    page_.element("strong", head.substr(0, head.find(": "))).text(rest).close();
  }

  void faults(const std::vector<std::vector<std::string>>& rows) override {
    page_.open("div class=\"wide\"").open("table");
    for (size_t i = 0; i < rows.size(); ++i) {
      page_.open(i == 0 ? "thead" : "tbody").open("tr");
      for (size_t k = 0; k < rows[i].size(); ++k)
        page_.element(fmt::format("{}{}", i == 0 ? "th" : "td", k == 0 ? "" : " class=\"amount\""),
                      rows[i][k]);
      page_.close().close();
    }
    page_.close().close();
  }

  void paragraph(const std::string& lead, const std::string& text, Tone) override {
    end_steps();
    show_figure_before(lead);
    page_.open("p");
    if (!lead.empty()) page_.element("span class=\"lead\"", lead).text(": ");
    page_.text(text).close();
  }

  void plan(const std::string& lead, const std::string& text, bool in_full) override {
    end_steps();
    if (!in_full) return paragraph(lead, text, Tone::plain);
    page_.element("h2", lead).element("p", text);
    page_.open("div class=\"slip\"").open("table").open("tbody");
    in_steps_ = true;
  }

  void step(int number,
            const std::string& name,
            const std::string& open,
            const std::string& says,
            const std::string& mark,
            const std::string& check) override {
    page_.open("tr").element("td class=\"step\"", fmt::format("{}.", number)).open("td");
    page_.open("p").element("b", name).close();
    if (!open.empty()) page_.element("p", open);
    page_.element("p", says);
    page_.open("p").element("span class=\"lead\"", "Mark:").text(" " + mark).close();
    page_.element("p class=\"check\"", check).close().close();
  }

  void end() {
    end_steps();
    show_figure_before("");
  }

 private:
  void end_steps() {
    if (!in_steps_) return;
    page_.close().close().close();
    in_steps_ = false;
  }

  /// After the plans, before what is said of the rest.
  void show_figure_before(const std::string& lead) {
    const bool rest = lead.empty() || lead == "Let be" || lead == "Not met" || lead == "Care" ||
                      lead == "Searched";
    if (figure_.empty() || !rest) return;
    page_.open("section class=\"whole\"").element("h2", "Before and after the first plan");
    page_.open("figure").raw(figure_).close().close();
    figure_.clear();
  }

  Markup& page_;
  std::string figure_;
  bool in_steps_ = false;
};

}  // namespace

std::string write_alteration_html(const Altered& altered, const std::string& figure) {
  Markup page;
  begin_html(page, altered.job->label);
  page.open("article");
  HtmlPaper paper(page, figure);
  write_alteration_on(altered, paper);
  paper.end();
  page.close();
  end_html(page,
           "Computed by easewright. A garment in hand is soft and bodies move: try each step on "
           "before anything is cut off.");
  return page.all();
}

}  // namespace easewright
