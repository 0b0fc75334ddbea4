#include "records/reject.hpp"

#include "records/fields.hpp"

namespace tarewell::records {
namespace {

using a = fields_of<reject>;
constexpr std::string_view stage_words[] = {"site", "baler", "processor"};
constexpr std::string_view disposition_words[] = {"returned", "landfilled", "elsewhere"};
constexpr field<reject> fields[] = {
    a::id<&reject::id>("reject").required(),
    a::date<&reject::date>("date").required(),
    a::one_of<&reject::stage, stage_words>("stage").required(),
    a::names<&reject::bundle>("bundle"),
    a::names<&reject::bale>("bale"),
    a::unkept("weight", column_type::nonnegative),
    a::unkept_word<unit_words>("unit"),
    a::text<&reject::reason>("reason").required(),
    a::one_of<&reject::disposition, disposition_words>("disposition"),
    a::text<&reject::has_document>("document"),
};
constexpr whole_field<reject> numbers[] = {
    a::weight<&reject::rejected_weight>("weight_thousandths", "weight", "unit"),
};

} // namespace

constinit const kind_info reject_kind =
    kind_made<reject, fields, numbers>({kind::reject, "reject", "rejects", "reject", {}, "date"});
constinit const coded_kind reject_coded = coded_made<reject, fields, numbers>(kind::reject);

void check(const reject& made, const season& /*before*/, complaints& say) {
    say.together("weight", "unit");
    if (bool{made.bundle} == bool{made.bale})
        say.say(made.bundle ? "bale" : "bundle",
                made.bundle ? "is given, and so is bundle" : "is empty, and so is bale",
                "a reject names a bundle or a bale");
}

void admit(reject&& made, season& to) { to.rejects.push_back(std::move(made)); }

} // namespace tarewell::records
