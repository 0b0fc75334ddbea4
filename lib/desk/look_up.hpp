#pragma once
#include "desk/find.hpp"
#include "intake/intake.hpp"
#include "ledger/ledger.hpp"
#include "records/errors.hpp"

#include <functional>
#include <optional>

namespace tarewell::desk {

/// Names in the place of ids, for what is typed. An id that is there is taken as it is, before any name and without
/// reading the season; what was found by anything else is told in `told`: "site S03 (Pell Crossing fire hall, rear
/// lot)".
class look_up {
  public:
    /// The file must outlive it. `at_hand` gives the season as the file stands; without it, it is read where it is
    /// needed.
    using season_at_hand = std::function<const records::season&()>;
    explicit look_up(const ledger::ledger_file& of, season_at_hand at_hand = {});

    /// The id that a text means; of a grower who was merged into another, the other's. Throws records::input_error
    /// where none or several are found, and says which.
    std::string id_of(records::kind which, const std::string& said);
    /// The same; where none is found the text as it stands, for rules that complain of it with all else.
    std::string id_or_text(records::kind which, const std::string& said);
    /// Every value of a column that names a record, and every part of a key that does, as ids. A key's first part names
    /// a record of the kind itself, a voided one too.
    void put_ids(records::kind which, intake::named_values& values);
    void put_ids(records::kind which, std::vector<std::string>& key);
    /// A refusal's lines with what is near in the place of advice to define an id anew.
    records::refused with_what_is_near(const records::refused& refusal);

    std::vector<std::string> told;

  private:
    [[nodiscard]] bool is_there(records::kind which, const std::string& id, bool ever) const;
    std::string meant(records::kind which, const std::string& said, bool ever, bool needed);
    void ask_about_processor(const std::string& said);
    const records::season& season();

    const ledger::ledger_file& file_;
    season_at_hand at_hand_;
    std::optional<records::season> season_;
};

/// What a change of a record does with ids alone, done with names: `change` is called with ids, and a refusal says what
/// is near.
template <class Change> auto with_names(look_up& names, Change&& change) {
    try {
        return change();
    } catch (const records::refused& refusal) {
        throw names.with_what_is_near(refusal);
    }
}

} // namespace tarewell::desk
