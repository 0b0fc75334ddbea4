#include "records/site.hpp"

#include "records/fields.hpp"

namespace tarewell::records {
namespace {

using a = fields_of<site>;
constexpr field<site> fields[] = {
    a::id<&site::id>("site").required(),
    a::text<&site::name>("name").required(),
    a::text<&site::town>("town"),
    a::text<&site::host>("host"),
    a::unkept("opens", column_type::time),
    a::unkept("closes", column_type::time),
    a::unkept("capacity_lb", column_type::nonnegative),
};

} // namespace

constinit const kind_info site_kind =
    kind_made<site, fields, no_numbers<site>>({kind::site, "site", "sites", "site", {}, {}, belongs::beside_the_award});
constinit const coded_kind site_coded = coded_made<site, fields, no_numbers<site>>(kind::site);

void admit(site&& made, season& to) { to.keep(kind::site, to.sites, std::move(made)); }

} // namespace tarewell::records
