#include "base_season.hpp"
#include "chain_again.hpp"
#include "ledger/sha256.hpp"
#include "rows.hpp"

#include <catch2/catch.hpp>

using namespace tarewell;
using namespace tarewell::tests;
using Catch::Matchers::Contains;
using records::kind;

TEST_CASE("SHA-256 gives the digests of its standard") {
    // from memory: FIPS 180-4's example "abc" and the empty message.
    ledger::sha256 hasher;
    CHECK(ledger::hex(hasher.of("abc")) == "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad");
    CHECK(ledger::hex(hasher.of("")) == "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855");
    hasher.begin();
    hasher.add("a");
    hasher.add("bc");
    const auto in_parts = hasher.end();
    CHECK(in_parts == hasher.of("abc"));
}

TEST_CASE("no two lists of fields have the same bytes") {
    const auto listed = [](std::initializer_list<const char*> fields) {
        std::string message;
        for (const auto* field : fields) {
            if (field == nullptr)
                ledger::add_none(message);
            else
                ledger::add_field(message, field);
        }
        return message;
    };
    CHECK(listed({"5:value", "x"}) == "7:5:value,1:x,");
    CHECK(listed({"ab", "c"}) != listed({"a", "bc"}));
    CHECK(listed({""}) != listed({nullptr}));
    CHECK(listed({"-,"}) != listed({nullptr, nullptr}));
}

TEST_CASE("the chain of a row of every kind is what the file's own tables give") {
    small_ledger small;
    for (const auto& each : records::all_kinds())
        small.record(row_of_names(each));
    const auto chain = chain_again{small.path()}.all();
    CHECK(chain.stored.size() == records::kind_count);
    CHECK(chain.worked_out == chain.stored);
}

TEST_CASE("the chain of a season with corrections, voids and keys is what the file's own tables give") {
    base_season season;
    season.take_all();
    season.take(kind::setting, "setting,from,value\nbundle_aim_lb,2026-02-01,45\n");
    intake::correct(season.ledger(), kind::receipt, {"RC3"}, {{"reason", "wet"}}, "read again", season.around());
    intake::void_record(season.ledger(), kind::inkind, {"I1"}, "entered twice", season.around());
    intake::record(season.ledger(), kind::cost,
                   {{"cost", "C2"},
                    {"date", "2026-06-01"},
                    {"category", "travel"},
                    {"description", "v\xC3\xA4n"},
                    {"amount", "-3.20"},
                    {"fund", "match"}},
                   season.around(), "key-1");
    const auto chain = chain_again{season.ledger().path()}.all();
    REQUIRE(chain.stored.size() == static_cast<std::size_t>(season.head()));
    REQUIRE(chain.stored.size() > 30);
    CHECK(chain.worked_out == chain.stored);
    CHECK(std::string{ledger::bytes(season.ledger().head().hash)} == chain.worked_out.back());
}

TEST_CASE("a value changed behind the ledger's back breaks the chain from there on") {
    small_ledger small;
    for (const auto* id : {"S1", "S2", "S3"})
        small.record(site_row(id, "Old Creamery"));
    {
        SQLite::Database database{small.path(), SQLite::OPEN_READWRITE};
        database.exec("DROP TRIGGER sites_no_update; UPDATE sites SET name = 'New Creamery' WHERE seq = 2");
    }
    const auto chain = chain_again{small.path()}.all();
    CHECK(chain.worked_out[0] == chain.stored[0]);
    CHECK(chain.worked_out[1] != chain.stored[1]);
    CHECK(chain.worked_out[2] != chain.stored[2]);
}

TEST_CASE("contact details are hashed as a salted digest alone") {
    small_ledger small;
    const auto seq =
        small.record(row_of(kind::grower, {"G1", "Ruth Ames", "Hollow Farm", "Wend", "KB", "r@example.org", ""}));
    chain_again chain{small.path()};
    CHECK(chain.text("SELECT contact_digest FROM growers") == chain.contact_digest(seq));
    CHECK(chain.text("SELECT salt FROM contact") == "00000000000000000000000000000001");
    const auto columns = chain.text("SELECT group_concat(name) FROM pragma_table_info('growers')");
    CHECK(columns == "seq,grower,town,region,contact_digest");
}

TEST_CASE("the same contact details have another digest each time, since the salt is drawn anew") {
    small_ledger small;
    const auto twin = [](const char* id) { return row_of(kind::grower, {id, "Ruth Ames", "", "", "KB", "", ""}); };
    small.record(twin("G1"));
    small.record(twin("G2"));
    CHECK(chain_again{small.path()}.text("SELECT count(DISTINCT contact_digest) FROM growers") == "2");
}

TEST_CASE("the chain stands after contact details were erased") {
    small_ledger small;
    small.record(row_of(kind::grower, {"G1", "Ruth Ames", "Hollow Farm", "Wend", "KB", "", "555-0100"}));
    small.record(site_row("S1", "Old Creamery"));
    {
        SQLite::Database database{small.path(), SQLite::OPEN_READWRITE};
        database.exec("UPDATE contact SET salt = NULL, name = NULL, farm = NULL, email = NULL, phone = NULL");
    }
    const auto chain = chain_again{small.path()}.all();
    CHECK(chain.worked_out == chain.stored);
    CHECK(bytes_in(small.path()).find("Hollow Farm") == std::string::npos);
}

TEST_CASE("the journal is numbered from 1 without gaps and each act is one row") {
    base_season season;
    season.take_all();
    chain_again chain{season.ledger().path()};
    CHECK(chain.text("SELECT min(seq) || ' ' || (max(seq) - count(*)) FROM journal") == "1 0");
    CHECK(chain.text("SELECT count(*) FROM act") == "16"); // one for each of the season's files
    CHECK(chain.text("SELECT source || ' ' || line FROM journal JOIN act USING (act) WHERE kind = 'receipt' "
                     "ORDER BY seq DESC") == "receipts.csv 4");
    ledger::sha256 hasher;
    CHECK(chain.text("SELECT source_sha256 FROM act WHERE source = 'sites.csv'") ==
          ledger::hex(hasher.of(base_files().at("sites.csv"))));
}
