#pragma once
#include "desk/answer.hpp"
#include "desk/find.hpp"
#include "ledger/ledger.hpp"
#include "records/errors.hpp"

#include <string>
#include <vector>

namespace tarewell::desk {

/// A cover as a caller tells it; what is not known stays empty.
struct cover_told {
    std::string length, width, rise; ///< ft
    std::string layers, mil, structure, film;
};

/// "96x30", "96 x 30 ft", "96 by 30", with a rise "96x30x12": as a cover of one layer. Throws records::input_error.
cover_told cover_of_size(const std::string& size);

/// A telephone call, or a row of a web form: who brings film of what, and where.
struct call {
    std::string who;         ///< id, whole name, e-mail address or telephone number; a new grower's name
    std::string grower;      ///< an id: this grower and no other, whatever `who` says
    bool new_grower = false; ///< though one like it is there
    std::string farm, town, region, email, phone; ///< of a new grower; the region is the award's where it is empty
    std::string site;                             ///< id or name
    std::string date;                             ///< empty: the day of the entry
    std::vector<cover_told> covers;
    std::string bundles; ///< how many; empty: as many as the covers' weight makes
    bool again = false;  ///< though the same was registered on that day
    std::string once;
};

/// Growers that the caller may be, or a registration that says the same: nothing was recorded, a person has to say.
class call_in_doubt : public records::input_error {
  public:
    enum class about { grower, registration };
    call_in_doubt(about of, std::vector<found_thing> like, const std::string& message)
        : input_error{message}, of_what{of}, may_be{std::move(like)} {}
    about of_what;
    std::vector<found_thing> may_be;
};

/// Records the grower where it is new, a registration with its covers and its bundles, all in one deed, with ids that
/// go on in the ledger's pattern. With covers' sizes there are as many bundles as `estimate` plans, or as many as were
/// told; with a count alone each claims the setting bundle_aim_lb, which is a question until sizes come. Answers with
/// the labels' texts and what to tell the grower. Throws call_in_doubt, or records::input_error for what can't be
/// understood.
answer register_call(ledger::ledger_file& to, const call& of, const ledger::surroundings& around);

} // namespace tarewell::desk
