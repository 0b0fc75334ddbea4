#pragma once
#include "records/complaints.hpp"
#include "records/season.hpp"

namespace tarewell::intake {

/// Holds each record against the ones before it: ids that nothing defines, a bundle accepted twice or in two bales,
/// rows of one record that disagree, and the rest of the rules that refuse (records/*.cpp). What is only flagged is
/// not its business.
class rules {
  public:
    /// Begins with what is in the season already; the season must outlive the rules.
    explicit rules(records::season& season) : season_{season}, first_new_{season.bundles.size()} {}

    /// Checks one row whose values' form is good. Returns true when it may be admitted.
    bool check(const records::row& values, const records::complaint& complain) const;
    /// Takes a checked row into the season. `line` is told back by `finish`.
    void admit(const records::row& values, records::entry_no entry, std::size_t line);
    /// After the last row of a kind: what only the whole tells (estimates that leave nothing).
    void finish(records::kind which, const std::function<void(std::size_t line, std::string_view column,
                                                              std::string what, std::string right)>& complain);
    /// What was refused, so that rows naming it aren't refused for that too.
    records::excuses refused;

  private:
    records::season& season_;
    std::size_t first_new_;          ///< of the kind that is checked as a whole
    std::vector<std::size_t> lines_; ///< of its new records
};

} // namespace tarewell::intake
