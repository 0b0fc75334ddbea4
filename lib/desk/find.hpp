#pragma once
#include "records/season.hpp"

#include <string>
#include <string_view>
#include <vector>

namespace tarewell::desk {

/// A record that people speak of; a processor is none, and its id is its name.
struct found_thing {
    std::string id; ///< "S03"
    std::string
        name; ///< "Pell Crossing fire hall, rear lot"; for what has no name, what it is: "2026-05-14, 8 bundles at S02"
    std::string more; ///< what else tells it from another: town, telephone

    /// "S03 (Pell Crossing fire hall, rear lot)"
    [[nodiscard]] std::string in_words() const;
};

struct found {
    std::vector<found_thing> matches; ///< one: that is meant; several: any of them may be
    std::vector<found_thing> near;    ///< where nothing matches: the nearest, at most three
    bool by_id = false;               ///< the text is the id, letter for letter
    bool in_full = false;             ///< the text is the id, the whole name, e-mail address or telephone number
};

/// What a text may mean among the records of a kind: its id, its number, its name or a part of it, an e-mail address,
/// the end of a telephone number (four digits or more), what stands on a bundle's label ("Ruth Ames, 2 of 5"). What
/// matches best is told alone. Words are compared without case and accents, telephone numbers by digits. Sites,
/// growers, scales, registrations (kind::cover), bundles, bales, shipments, tickets and costs have names; other kinds
/// are found by id. A grower whose details were erased is found by id alone.
found find(const records::season& among, records::kind which, std::string_view said);

/// The same among the processors of shipments.
found find_processor(const records::season& among, std::string_view said);

/// Every record of a kind as it is told to people, in order of entry.
std::vector<found_thing> things_of(const records::season& among, records::kind which);

/// "no site 'millbrok' is defined; did you mean S03 (Millbrook yard)? `tarewell list sites` shows all"
std::string none_found(records::kind which, std::string_view said, const std::vector<found_thing>& near);

/// "'alder' may be any of 2 sites: ..." with a line for each.
std::string several_found(records::kind which, std::string_view said, const std::vector<found_thing>& matches);

/// "site", "registration": what people call a record of a kind.
std::string_view called(records::kind which);

} // namespace tarewell::desk
