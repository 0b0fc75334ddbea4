#pragma once
#include "office/entry_sheet.hpp"

#include <map>

namespace tarewell::office {

/// What is wrong with a field, or with the whole where the field is empty.
struct field_error {
    std::string field, sentence;
};

/// A form of a kind of record on its way to the page.
struct entry_form {
    const records::kind_info& kind;
    std::map<std::string, std::string> values; ///< by column, as typed
    std::vector<field_error> wrong = {};
    std::string once = {};
    const desk::echo* held = nullptr; ///< what blocks a closing and is not ticked yet
    const desk::echo* look = nullptr; ///< what it would be read as
    const said* told = nullptr;       ///< of the entry before
    std::string focus = {};           ///< empty: the first field that is wrong, else the first that is empty

    /// Of a record that is there: its key, the entry that was shown, and why it is changed.
    struct correction {
        std::vector<std::string> key;
        records::entry_no shown = 0;
        std::string why;
    };
    std::optional<correction> correcting = {};
    std::optional<entry_sheet> sheet = {}; ///< the printed sheet that it is typed in from
};

/// The form's page.
response show_form(state& of, const entry_form& form, int status = 200);

/// The values of the columns that a form sent: numbers, ids and days without blanks at their ends, texts as they are.
std::map<std::string, std::string> values_in(const form& sent, const records::kind_info& kind);
/// A refusal's lines, "--net: what; what would be right", as errors of fields.
std::vector<field_error> errors_of(const records::refused& refusal, const records::kind_info& kind);
/// Stands for doubts that were shown: who ticks them has seen these and no others.
std::string mark_of(const desk::echo& shown);
/// What was understood and what it raises, for part_said.
value said_of(const desk::echo& of);

} // namespace tarewell::office
