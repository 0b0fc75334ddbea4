#pragma once
#include "ledger/ledger.hpp"
#include "support.hpp"

#include <initializer_list>

namespace tarewell::tests {

/// A row of literals, in the order of its kind's columns.
inline records::row row_of(records::kind which, std::initializer_list<std::string_view> cells) {
    records::row made;
    made.which = which;
    std::size_t i = 0;
    for (const auto cell : cells)
        made.cells[i++] = cell;
    return made;
}

inline records::row site_row(std::string_view id, std::string_view name) {
    return row_of(records::kind::site, {id, name, "Wend"});
}

/// A row of any kind whose cells hold their own columns' names, so that no two are alike.
inline records::row row_of_names(const records::kind_info& kind) {
    records::row made;
    made.which = kind.which;
    for (std::size_t i = 0; i < kind.columns.size(); ++i)
        made.cells[i] = kind.columns[i].name;
    for (std::size_t i = 0; i < kind.worked_out.size(); ++i)
        made.worked_out[i] = 1000 + static_cast<std::int64_t>(i);
    return made;
}

/// A ledger of its own folder, with a writer's few steps made short.
class small_ledger {
  public:
    small_ledger() : file_{ledger::ledger_file::create(path())} {}
    [[nodiscard]] std::string path() const { return folder_.file("basin.tarewell"); }
    [[nodiscard]] ledger::ledger_file& file() { return file_; }
    [[nodiscard]] const ledger::surroundings& around() const { return around_; }

    records::entry_no record(const records::row& values) { return write("record", values, ledger::deed::record, {}); }
    records::entry_no correct(const records::row& values, records::entry_no replaces) {
        return write("correct", values, ledger::deed::correct, replaces);
    }
    records::entry_no take_out(records::kind which, records::entry_no replaces) {
        ledger::writer writing{file_, around_};
        writing.begin({"void", "entered twice"});
        const auto entry = writing.append_void(which, replaces);
        writing.commit();
        return entry;
    }
    /// The first two columns of each record in force as of an entry, "S1 Old Creamery".
    [[nodiscard]] std::vector<std::string> in_force(records::kind which, records::entry_no seq) const {
        std::vector<std::string> found;
        file_.for_each(which, seq, [&](const ledger::stored_row& stored) {
            found.push_back(std::string{stored.values[0]} + " " + std::string{stored.values[1]});
        });
        return found;
    }

  private:
    records::entry_no write(const char* command, const records::row& values, ledger::deed what,
                           std::optional<records::entry_no> replaces) {
        ledger::writer writing{file_, around_};
        writing.begin({command, replaces ? "misread label" : ""});
        const auto entry = writing.append(values, what, replaces);
        writing.commit();
        return entry;
    }

    temporary_folder folder_;
    ledger::surroundings around_ = standing_still();
    ledger::ledger_file file_;
};

} // namespace tarewell::tests
