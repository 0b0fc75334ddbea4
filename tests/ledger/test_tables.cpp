#include "records/settings.hpp"
#include "rows.hpp"

#include <SQLiteCpp/SQLiteCpp.h>
#include <catch2/catch.hpp>

#include <set>

using namespace tarewell;
using namespace tarewell::tests;

namespace {

struct table_column {
    std::string name, type;
    bool not_null;
};

std::vector<table_column> columns_of(const std::string& path, std::string_view table) {
    SQLite::Database database{path, SQLite::OPEN_READONLY};
    SQLite::Statement info{database, "SELECT name, type, \"notnull\" FROM pragma_table_info(?) WHERE name <> 'seq' "
                                     "ORDER BY cid"};
    info.bind(1, std::string{table});
    std::vector<table_column> found;
    while (info.executeStep())
        found.push_back(
            {info.getColumn(0).getString(), info.getColumn(1).getString(), info.getColumn(2).getInt() == 1});
    return found;
}

/// What a kind's table should hold by its fields: its columns as text, the personal ones as one
/// digest, then the whole numbers, then the columns that came later.
std::vector<table_column> wanted(const records::kind_info& kind) {
    std::vector<table_column> columns;
    bool personal = false;
    for (const auto& column : kind.columns) {
        if (column.personal)
            personal = true;
        else if (!column.later)
            columns.push_back({std::string{column.name}, "TEXT", column.required});
    }
    if (personal) columns.push_back({"contact_digest", "TEXT", true});
    for (const auto& number : kind.worked_out)
        columns.push_back({std::string{number.name}, "INTEGER", false});
    for (const auto& column : kind.columns)
        if (column.later) columns.push_back({std::string{column.name}, "TEXT", false});
    return columns;
}

bool operator==(const table_column& a, const table_column& b) {
    return a.name == b.name && a.type == b.type && a.not_null == b.not_null;
}

std::vector<std::string_view> personal_columns() {
    std::vector<std::string_view> names;
    for (const auto& kind : records::all_kinds())
        for (const auto& column : kind.columns)
            if (column.personal) names.push_back(column.name);
    return names;
}

} // namespace

TEST_CASE("every kind's table has the columns that the program knows, in their order") {
    const small_ledger small;
    for (const auto& kind : records::all_kinds()) {
        CAPTURE(std::string{kind.name});
        CHECK((columns_of(small.path(), kind.file) == wanted(kind)));
    }
}

TEST_CASE("what is kept apart to be erased is the grower's name, farm, email and phone") {
    const small_ledger small;
    CHECK(personal_columns() == std::vector<std::string_view>{"name", "farm", "email", "phone"});
    std::vector<std::string> kept;
    for (const auto& column : columns_of(small.path(), "contact"))
        kept.push_back(column.name);
    CHECK(kept == std::vector<std::string>{"salt", "name", "farm", "email", "phone"});
}

TEST_CASE("every kind's row comes back as it was written, column by column") {
    // A column in the wrong place of a statement shows.
    for (const auto& kind : records::all_kinds()) {
        CAPTURE(std::string{kind.name});
        small_ledger small;
        const auto written = row_of_names(kind);
        const auto seq = small.record(written);
        int seen = 0;
        const auto look = [&](const ledger::stored_row& stored) {
            ++seen;
            CHECK(stored.entry == seq);
            CHECK((stored.values.cells == written.cells));
            CHECK((stored.values.worked_out == written.worked_out));
        };
        small.file().for_each(kind.which, seq, look);
        CHECK(small.file().with_entry(kind.which, seq, look));
        CHECK(seen == 2);
    }
}

TEST_CASE("every kind's id and every column that names a record has an index, so that neighbours are found") {
    const small_ledger small;
    SQLite::Database database{small.path(), SQLite::OPEN_READONLY};
    const auto indexed = [&](std::string_view table, std::string_view column) {
        SQLite::Statement found{database,
                                "SELECT count(*) FROM pragma_index_list(?1) AS i JOIN pragma_index_info(i.name) AS c "
                                "WHERE c.seqno = 0 AND c.name = ?2"};
        found.bind(1, std::string{table});
        found.bind(2, std::string{column});
        found.executeStep();
        return found.getColumn(0).getInt() > 0;
    };
    for (const auto& kind : records::all_kinds())
        for (std::size_t i = 0; i < kind.columns.size(); ++i) {
            const auto& column = kind.columns[i];
            if (i != kind.key[0] && !column.names && column.names_by == nullptr) continue;
            CAPTURE(std::string{kind.file}, std::string{column.name});
            CHECK(indexed(kind.file, column.name));
        }
}

TEST_CASE("kinds are found by their own name and by their file's") {
    for (const auto& kind : records::all_kinds()) {
        CHECK(records::find_kind(kind.name) == &kind);
        CHECK(records::find_kind(kind.file) == &kind);
        CHECK(&records::info(kind.which) == &kind);
        CHECK(kind.columns.size() <= records::most_columns);
        CHECK(kind.worked_out.size() <= records::most_worked_out);
    }
    CHECK(records::find_kind("birds") == nullptr);
    CHECK(records::all_kinds().size() == records::kind_count);
}

TEST_CASE("a key of two does not mistake one pair of ids for another") {
    const auto key = [](std::string_view bale, std::string_view bundle) {
        return records::key_of(row_of(records::kind::bale, {bale, "2026-05-20", "S1", bundle}));
    };
    CHECK(key("L1", "B1") != key("L1 B", "1"));
    CHECK(key("L", "1B1") != key("L1", "B1"));
    CHECK(records::key_for_people(row_of(records::kind::bale, {"L1", "", "", "B1"})) == "L1 B1");
}

TEST_CASE("the settings that intake and the estimate ask for are there once, with the defaults of the trade") {
    std::set<std::string_view> names;
    for (const auto& setting : records::all_settings())
        CHECK(names.insert(setting.name).second);
    CHECK(records::find_setting("curvature_factor")->default_value == "1.5");        // P
    CHECK(records::find_setting("area_weight_lb_per_ft2")->default_value == "0.04"); // P
    CHECK(records::find_setting("bundle_maximum_lb")->default_value == "60");        // P
    CHECK(records::find_setting("subaward_limit")->default_value == "50000");        // read in 2 CFR 200.1 (2024)
    CHECK(records::find_setting("birds") == nullptr);
}
