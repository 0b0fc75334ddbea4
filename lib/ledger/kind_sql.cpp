#include "ledger/kind_sql.hpp"

#include <fmt/format.h>

#include <array>

namespace tarewell::ledger {

using namespace records; // NOLINT
namespace {

using records::kind_info;

// The plus keeps SQLite from walking the whole journal by its primary key instead of the index of what was replaced.
constexpr std::string_view not_replaced =
    "t.seq NOT IN (SELECT replaces FROM journal WHERE replaces IS NOT NULL AND +journal.seq <= ?1)";
constexpr std::string_view not_replaced_alone =
    "NOT EXISTS (SELECT 1 FROM journal WHERE journal.replaces = t.seq AND journal.seq <= ?1)";

void put_written(const kind_info& kind, kind_sql& into) {
    std::string names = "seq", marks = "?";
    const auto add = [&](std::string_view name) {
        names += fmt::format(", \"{}\"", name);
        marks += ", ?";
    };
    for (const auto& column : kind.columns)
        if (!column.personal) add(column.name);
    if (kind.has_personal_columns()) add("contact_digest");
    for (const auto& number : kind.worked_out)
        add(number.name);
    into.written = fmt::format("{} ({})", kind.file, names);
    into.written_values = fmt::format("({})", marks);
}

std::string select_of(const kind_info& kind) {
    std::string names = "t.seq";
    for (const auto& column : kind.columns)
        names += fmt::format(", {}.\"{}\"", column.personal ? "contact" : "t", column.name);
    for (const auto& number : kind.worked_out)
        names += fmt::format(", t.\"{}\"", number.name);
    return fmt::format("SELECT {} FROM {} AS t{}", names, kind.file,
                       kind.has_personal_columns() ? " LEFT JOIN contact USING (seq)" : "");
}

kind_sql statements_of(const kind_info& kind) {
    kind_sql made;
    made.select = select_of(kind);
    put_written(kind, made);
    made.in_force = fmt::format("{} WHERE t.seq <= ?1 AND {} ORDER BY t.seq", made.select, not_replaced);
    made.all = made.select + " ORDER BY t.seq";
    made.entry = made.select + " WHERE t.seq = ?1";
    made.has_any = fmt::format("SELECT EXISTS (SELECT 1 FROM {})", kind.file);
    made.count = fmt::format("SELECT count(*) FROM {}", kind.file);
    if (kind.has_personal_columns())
        made.contact_digests = fmt::format("SELECT seq, contact_digest FROM {} ORDER BY seq", kind.file);
    return made;
}

} // namespace

std::string kind_sql::in_force_with(std::string_view column) const {
    return fmt::format("{} WHERE t.\"{}\" = ?2 AND t.seq <= ?1 AND {} ORDER BY t.seq", select, column,
                       not_replaced_alone);
}

std::string kind_sql::ever_with(std::string_view column) const {
    return fmt::format("{} WHERE t.\"{}\" = ?2 AND t.seq <= ?1 ORDER BY t.seq", select, column);
}

const kind_sql& sql_of(records::kind which) {
    static const auto all = [] {
        std::array<kind_sql, records::kind_count> made;
        for (const auto& kind : records::all_kinds())
            made[static_cast<std::size_t>(kind.which)] = statements_of(kind);
        return made;
    }();
    return all[static_cast<std::size_t>(which)];
}

} // namespace tarewell::ledger
