#pragma once
#include "ledger/ledger.hpp"
#include "records/owned_row.hpp"
#include "records/season.hpp"

#include <map>
#include <set>
#include <tuple>

namespace tarewell::ledger {

using records::kind_count;
using records::owned_row;

/// The records in force that one record's rules can see, found by the key indexes: a small season to hold it against,
/// with the verdict of the whole one. What a rule looks at follows from the columns: the records of the same id, those
/// that it names, and where a column is told to be looked at or to stand together, those who name the same.
class neighbourhood {
  public:
    /// Begins with the award's terms: the award, its amendments and settings.
    neighbourhood(const ledger_file& file, entry_no head);

    /// Takes in what the rules of such a record look at.
    void around(const row& centre);
    /// Takes in the records that name this one: those whose rules look at its values, or all.
    enum class naming { looked_at, any };
    void who_name(const row& centre, naming how);

    /// Takes in the records whose column holds a text, and what they name.
    void with(kind which, std::string_view column, std::string_view text);
    /// Takes in all records of a kind.
    void all(kind which);

    /// What is taken in from now on keeps the order of its own entries, corrected or not: enough for sums.
    void order_matters_no_more() { ordered_up_to_now_ = false; }

    /// In order of entry.
    [[nodiscard]] const std::map<entry_no, owned_row>& rows(kind which) const {
        return rows_[static_cast<std::size_t>(which)];
    }
    /// Without some of them: as if those had been voided.
    [[nodiscard]] records::season season(const std::set<entry_no>& voided = {}) const;

  private:
    void keep(std::vector<std::pair<entry_no, owned_row>> found);
    void what_it_names(const row& of);
    void look_at(kind which, std::string_view id);
    void load_named(kind which, std::string_view id);

    const ledger_file& file_;
    entry_no head_;
    std::array<std::map<entry_no, owned_row>, kind_count> rows_;
    bool ordered_up_to_now_ = true;
    std::set<entry_no> unordered_;
    std::set<std::tuple<kind, std::string, std::string>> asked_;
    std::set<std::pair<kind, std::string>> looked_at_;
};

} // namespace tarewell::ledger
