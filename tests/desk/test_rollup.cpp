#include "clerk.hpp"
#include "desk/rollup.hpp"
#include "figures/lines.hpp"

#include <catch2/catch.hpp>

using namespace tarewell;
using namespace tarewell::tests;
using Catch::Matchers::Contains;
using json = nlohmann::ordered_json;

namespace {

/// The award's row of the quiet season: its id, first month of the program year and unit.
std::string award(const std::string& id, int quarter_starts = 1, const std::string& unit = "lb") {
    return fmt::format(
        "award,agency,program,region,begins,ends,goal_tons,quarter_starts,unit,match_percent,match_base,"
        "indirect_percent,counted_when\n{},Basin Agency,Kestrel Basin film,KB,2026-01-01,2026-12-31,30,{},{},"
        "20,total,10,\n",
        id, quarter_starts, unit);
}

/// Several offices' ledgers in one folder.
class offices {
  public:
    clerk at;

    [[nodiscard]] std::string path(const std::string& name) const { return at.folder().file(name + ".tarewell"); }

    std::string open(const std::string& name, season_files files) {
        at.must({"new", path(name)});
        std::filesystem::create_directory(at.folder().file(name));
        for (const auto& [file, text] : files)
            at.folder().write(name + "/" + file, text);
        at.must({"--ledger", path(name), "intake", "season", at.folder().file(name)});
        return path(name);
    }
    std::string quiet(const std::string& name, const std::string& award_row) {
        auto files = quiet_season();
        files["award.csv"] = award_row;
        return open(name, files);
    }
    void close(const std::string& name, const std::string& period = "2026-Q2") {
        at.must({"--ledger", path(name), "quarter", "close", period, "--prepared-by", "Maud Ellery", "--reviewed-by",
                 "Dell Rourke", "--certified-by", "Odile Fenn"});
    }
    void spend(const std::string& name, const std::string& id, const std::string& amount) {
        at.must({"--ledger", path(name), "record", "cost", "--cost", id, "--date", "2026-05-06", "--category", "travel",
                 "--description", "van", "--amount", amount, "--fund", "grant"});
    }
    answered roll(std::vector<std::string> arguments) {
        arguments.insert(arguments.begin(), "rollup");
        arguments.insert(arguments.end(), {"--quarter", "2026-Q2"});
        return at.run(arguments);
    }
    json tree(std::vector<std::string> arguments) {
        arguments.emplace_back("--json");
        const auto done = roll(arguments);
        if (done.code != cli::done) throw std::logic_error(done.err);
        return done.json();
    }
    void refused(const std::vector<std::string>& arguments, const std::vector<std::string>& says,
                 int code = cli::bad_input) {
        auto with_files = arguments;
        const auto page = at.folder().file("rollup.html"), book = at.folder().file("rollup.xlsx");
        with_files.insert(with_files.end(), {"--page", page, "--workbook", book});
        const auto done = roll(with_files);
        CHECK(done.code == code);
        CHECK(done.out.empty());
        for (const auto& each : says)
            CHECK_THAT(done.err, Contains(each));
        CHECK_FALSE(std::filesystem::exists(page));
        CHECK_FALSE(std::filesystem::exists(book));
    }
};

json of(const json& figures, const std::string& name) {
    for (const auto& each : figures["figures"])
        if (each["name"] == name) return each["value"];
    throw std::logic_error("no figure " + name);
}

} // namespace

TEST_CASE("a rollup shows each ledger as its own quarter does, and sums amounts") {
    offices all;
    all.quiet("wend", award("KB-26"));
    all.quiet("fen", award("KB-27"));
    all.spend("fen", "C2", "40.25");
    const auto tree = all.tree({all.path("wend"), all.path("fen")});
    CHECK(tree["period"] == "2026-Q2");
    CHECK(tree["same_days"] == true);
    REQUIRE(tree["ledgers"].size() == 2);
    REQUIRE(tree["sums"].size() == 1);
    for (const auto& ledger : tree["ledgers"]) {
        const auto own = all.at.must({"--ledger", ledger["file"], "quarter", "show", "2026-Q2", "--json"});
        auto figures = json::parse(own)["figures"];
        for (int i = 0; i < 3; ++i)
            figures.erase(figures.size() - 1); // what the audit predicts stands last
        CHECK(ledger["figures"] == figures);
        CHECK(ledger["state"] == "open");
        CHECK(ledger["as_of"] == ledger["head"]);
        CHECK(ledger["fingerprint"] == ledger["head_fingerprint"]);
        CHECK(ledger["closing"].is_null());
    }
    CHECK(tree["ledgers"][0]["award"]["id"] == "KB-26");
    CHECK(tree["ledgers"][1]["ledger"] == "B");
    const auto& sum = tree["sums"][0];
    CHECK(sum["open"] == json{"A", "B"});
    CHECK(of(sum, "bale_net_weight") == "520.000"); // C: 2 x (150 + 110)
    CHECK(of(sum, "received_bundles") == 10);
    CHECK(of(sum, "grant_spent") == "241.25"); // C: 2 x 100.50 + 40.25
    CHECK(of(sum, "growers_served") == 4);     // ids stay apart
    CHECK(sum["goal_tons"] == 60.0);
}

TEST_CASE("a rate over ledgers is reckoned from the sums and never averaged") {
    offices all;
    all.quiet("wend", award("KB-26"));
    auto files = quiet_season();
    files["award.csv"] = award("KB-27");
    files["tickets.csv"] = "ticket,date,scale,weighs,subject,gross,tare,net,unit,entry,as_printed\n"
                           "T1,2026-05-22,P1,bale,L1,190,40,150,lb,printed,\n";
    all.open("fen", files);
    const auto sum = all.tree({all.path("wend"), all.path("fen")})["sums"][0];
    // C: net 260 and 150 over claims 259.2 and 158.4.
    CHECK(of(sum, "weight_over_estimate").get<double>() == Approx(410.0 / 417.6).epsilon(1e-15));
    // C: 2 x (100.50 + 10.05 + 63.60) over 410 / 2000 tons.
    CHECK(of(sum, "cost_per_ton").get<double>() == Approx(348.30 / 0.205).epsilon(1e-15));
    CHECK(of(sum, "goal_share").get<double>() == Approx(0.205 / 60).epsilon(1e-15));
    for (const auto& each : sum["figures"])
        CHECK((each["how"] == "worked out anew") == (each["unit"] == "ratio" || each["unit"] == "$/ton"));
}

TEST_CASE("every rate's line can be reckoned from sums alone") {
    figures::summand one{"A", quantity::weight_unit::lb, {30, 0}, {}};
    for (const auto& each : figures::all_lines())
        if (each.is != nullptr) one.figures.emplace(each.name, figures::number{quantity::fraction{7, 2}, {}});
    const auto sum = figures::sum_of({&one, &one}, quantity::weight_unit::lb, quantity::period{2026, 2});
    std::size_t rates = 0;
    for (const auto& each : sum.figures) {
        if (!each.anew) continue;
        ++rates;
        CHECK_FALSE(std::holds_alternative<std::monostate>(each.value));
        CHECK_THAT(figures::formula_of_rate(each.name).value(), Contains("/") && Contains("IF("));
    }
    CHECK(rates == 8);
    CHECK_FALSE(figures::formula_of_rate("diverted_tons"));
}

TEST_CASE("ledgers in pounds and in kilograms are shown in their own unit and summed in one, each rounded once") {
    offices all;
    all.quiet("wend", award("KB-26"));
    all.quiet("fen", award("KB-27", 1, "kg"));
    const auto in_lb = all.tree({all.path("wend"), all.path("fen")});
    CHECK(in_lb["unit"] == "lb");
    CHECK(of(in_lb["ledgers"][1], "bale_net_weight") == "117.934"); // C: 150 lb = 68.039, 110 lb = 49.895
    // C: 260 + 117.934 / 0.45359237 = 260 + 259.99996...
    CHECK(of(in_lb["sums"][0], "bale_net_weight") == "520.000");
    const auto in_kg = all.tree({all.path("wend"), all.path("fen"), "--unit", "kg"});
    CHECK(of(in_kg["sums"][0], "bale_net_weight") == "235.868"); // C: 260 x 0.45359237 = 117.934..., twice
    CHECK_THAT(in_kg["notes"].dump(), Contains("1 lb is exactly 0.45359237 kg") && Contains("A is kept in lb"));
    // Tons come from each ledger's own weights. C: 260 / 2000 + 117.934 / 907.18474.
    CHECK(of(in_kg["sums"][0], "diverted_tons").get<double>() == Approx(0.13 + 117.934 / 907.18474).epsilon(1e-14));
    CHECK(of(in_kg["sums"][0], "diverted_tons") == of(in_lb["sums"][0], "diverted_tons"));
}

TEST_CASE("a pound is exactly 0.45359237 kg") {
    using quantity::weight_unit;
    // R2: NIST Special Publication 811, appendix B.8.
    CHECK(figures::converted(quantity::weight{100'000'000'000}, weight_unit::lb, weight_unit::kg).count() ==
          45'359'237'000);
    CHECK(figures::converted(quantity::weight{45'359'237'000}, weight_unit::kg, weight_unit::lb).count() ==
          100'000'000'000);
    CHECK(figures::converted(quantity::weight{50'000'000}, weight_unit::lb, weight_unit::kg).count() ==
          22'679'619); // C: 22,679,618.5, half up
    CHECK(figures::converted(quantity::weight{-7}, weight_unit::lb, weight_unit::lb).count() == -7);
}

TEST_CASE("quarters of different days stand in groups, with a sum each and a last one that says so") {
    offices all;
    all.quiet("wend", award("KB-26"));
    all.quiet("fen", award("KB-27", 7)); // its 2026-Q2 is October to December
    all.quiet("mill", award("KB-28"));
    const auto tree = all.tree({all.path("wend"), all.path("fen"), all.path("mill")});
    CHECK(tree["same_days"] == false);
    CHECK(tree["ledgers"][0]["award"]["id"] == "KB-26");
    CHECK(tree["ledgers"][1]["award"]["id"] == "KB-28");
    CHECK(tree["ledgers"][2]["from"] == "2026-10-01");
    CHECK(tree["ledgers"][2]["nothing_dated"] == true);
    REQUIRE(tree["sums"].size() == 2);
    CHECK(tree["sums"][0]["name"] == "Summed, 2026-04-01 to 2026-06-30");
    CHECK(tree["sums"][0]["ledgers"] == json{"A", "B"});
    CHECK(tree["sums"][0]["same_days"] == true);
    CHECK(tree["sums"][1]["name"] == "Summed over different days");
    CHECK(tree["sums"][1]["to"] == "2026-12-31");
    CHECK(of(tree["sums"][1], "bale_net_weight") == "520.000");
    CHECK_THAT(tree["notes"].dump(), Contains("not the same days in every ledger") && Contains("C has no weight") &&
                                         Contains("--quarter 2026-04..2026-06"));
    // Two of different days have no sum but that of both.
    const auto two = all.tree({all.path("wend"), all.path("fen")});
    CHECK(two["same_days"] == false);
    CHECK(two["sums"].size() == 1);
    CHECK_THAT(two["notes"].dump(), Contains("not the same days in every ledger"));
    // The same months are the same days in all.
    const auto months =
        all.at.run({"rollup", all.path("wend"), all.path("fen"), "--quarter", "2026-04..2026-06", "--json"});
    CHECK(months.json()["sums"].size() == 1);
    CHECK(of(months.json()["sums"][0], "bale_net_weight") == "520.000");
}

TEST_CASE("a closed quarter is shown as filed, an open one is marked") {
    offices all;
    all.quiet("wend", award("KB-26"));
    all.quiet("fen", award("KB-27"));
    all.close("wend");
    all.spend("wend", "C9", "999.00"); // after the closing
    all.spend("fen", "C9", "1.00");
    const auto tree = all.tree({all.path("wend"), all.path("fen")});
    const auto &filed = tree["ledgers"][0], &open = tree["ledgers"][1];
    CHECK(filed["state"] == "as filed");
    CHECK(filed["closing"] == filed["as_of"].get<int>() + 1);
    CHECK(filed["head"] == filed["as_of"].get<int>() + 2);
    CHECK(filed["fingerprint"] != filed["head_fingerprint"]);
    CHECK(filed["certified_by"] == "Odile Fenn");
    CHECK(of(filed, "grant_spent") == "100.50");
    CHECK(open["state"] == "open");
    CHECK(of(tree["sums"][0], "grant_spent") == "202.00");
    CHECK(tree["sums"][0]["open"] == json{"B"});
    CHECK_THAT(tree["notes"].dump(),
               Contains("A has 1 entry since its closing") && Contains("quarter restate 2026-Q2"));
    const auto text = all.roll({all.path("wend"), all.path("fen")}).out;
    CHECK_THAT(text, Contains(fmt::format("as filed, entry {}", filed["closing"].get<int>())) && Contains("open") &&
                         Contains("side by side and summed"));
    // A year that is open says which of its quarters are filed.
    const auto year = all.at.run({"rollup", all.path("wend"), all.path("fen"), "--quarter", "2026", "--json"}).json();
    CHECK(year["ledgers"][0]["state"] == "open");
    CHECK(year["ledgers"][0]["quarters_filed"] == "2026-Q2");
    CHECK(year["ledgers"][1]["quarters_filed"].is_null());
}

TEST_CASE("what one ledger has no value for has no sum, and the reason names the ledger") {
    offices all;
    all.quiet("wend", award("KB-26"));
    auto files = quiet_season();
    files["award.csv"] = award("KB-27");
    files["settings.csv"] = "setting,from,value\ntipping_fee_per_ton,2026-01-01,80\n";
    all.open("fen", files);
    all.at.must({"--ledger", all.path("fen"), "intake", "settings", all.at.folder().file("fen/settings.csv")});
    const auto sum = all.tree({all.path("wend"), all.path("fen")})["sums"][0];
    CHECK(of(sum, "tipping_avoided").is_null());
    CHECK_THAT(sum.dump(), Contains("A: no landfill fee is given"));
}

TEST_CASE("the same ledger twice is refused, and so is a copy of it") {
    offices all;
    const auto wend = all.quiet("wend", award("KB-26")), copy = all.path("copy"), apart = all.path("apart");
    std::filesystem::copy_file(wend, copy);
    all.refused({wend, wend}, {wend + " is named twice"});
    all.refused({wend, copy}, {"are the same ledger", copy});
    all.spend("wend", "C9", "1.00");
    all.refused({copy, wend}, {copy + " is a copy of " + wend + " as it stood at entry"});
    all.refused({wend, copy}, {copy + " is a copy of " + wend + " as it stood at entry"});
    std::filesystem::copy_file(copy, apart);
    all.spend("apart", "C8", "2.00");
    all.refused({wend, apart}, {"begin with the same entries and then part"});
}

TEST_CASE("a ledger that can't be used is named, with what to do, and nothing is written") {
    offices all;
    const auto good = all.quiet("wend", award("KB-26")), bad = all.path("bad");
    all.refused({good, bad}, {"there is no ledger at " + bad});
    all.at.must({"new", bad});
    all.refused({good, bad}, {bad + " has no award yet", "intake award award.csv"});
    std::filesystem::remove(bad);
    all.at.folder().write("bad.tarewell", "not a ledger at all, and longer than sixteen bytes");
    all.refused({good, bad}, {bad + " is not a Tarewell ledger"});
    auto bytes = bytes_in(good);
    for (std::size_t at = 8192; at < bytes.size(); at += 512)
        bytes[at] = static_cast<char>(bytes[at] ^ 0x5A);
    all.at.folder().write("bad.tarewell", bytes);
    all.refused({good, bad}, {bad});
    bytes = bytes_in(good);
    bytes[63] = 99; // the schema's version (SQLite, "Database File Format", 1.3: user version at 60)
    all.at.folder().write("bad.tarewell", bytes);
    all.refused({good, bad}, {bad + " was written by a newer Tarewell", "use the newer program"});
    // Of several, each is named.
    all.refused(
        {all.path("none"), good, all.path("nowhere")},
        {"there is no ledger at " + all.path("none"), "there is no ledger at " + all.path("nowhere"), "2 faults"});
    const auto secret = all.roll({good, "postgresql://owner:hedgehog@/wend"});
    CHECK(secret.code == cli::bad_input);
    CHECK_THAT(secret.err, Contains("ledger 2 of those named") && Contains("password") && !Contains("hedgehog"));
    all.refused({"--ledger", good, good}, {"leave --ledger out"});
}

TEST_CASE("a closing whose rows give other figures is not summed") {
    offices all;
    all.quiet("wend", award("KB-26"));
    all.close("wend");
    auto bytes = bytes_in(all.path("wend"));
    const std::string filed = "bale_net_weight=260.000", other = "bale_net_weight=960.000";
    const auto at = bytes.find(filed);
    REQUIRE(at != std::string::npos);
    bytes.replace(at, filed.size(), other);
    all.at.folder().write("wend.tarewell", bytes);
    all.refused({all.path("wend")}, {"filed other figures than its rows give: bale_net_weight", "ledger check"});
}

TEST_CASE("two ledgers of one award are told apart, and that its terms count in each is said") {
    offices all;
    all.quiet("wend", award("KB-26"));
    auto files = quiet_season();
    files["award.csv"] = award("KB-26");
    files["award.csv"].replace(files["award.csv"].find("Basin Agency"), 12, "Basin agency");
    all.open("fen", files);
    const auto tree = all.tree({all.path("wend"), all.path("fen")});
    CHECK(tree["ledgers"][1]["file"] == all.path("fen"));
    CHECK_THAT(tree["notes"].dump(), Contains("A and B are ledgers of one award, KB-26"));
}

TEST_CASE("a page and a workbook of a rollup are written, and many ledgers have letters past Z") {
    offices all;
    std::vector<std::string> ledgers;
    for (int i = 0; i < 28; ++i)
        ledgers.push_back(all.quiet(fmt::format("office{}", i), award(fmt::format("KB-{}", 100 + i))));
    const auto page = all.at.folder().file("all.html"), book = all.at.folder().file("all.xlsx");
    auto arguments = ledgers;
    arguments.insert(arguments.end(), {"--page", page, "--workbook", book});
    const auto done = all.roll(arguments);
    CHECK(done.err.empty());
    CHECK_THAT(done.out, Contains("wrote " + page) && Contains("28 ledgers of 2026-Q2"));
    CHECK_THAT(bytes_in(page), Contains("id=\"ledger-AB\"") && Contains("7,280.000"));
    CHECK(std::filesystem::file_size(book) > 10'000);
    CHECK_THAT(all.roll(ledgers).out, Contains("All figures summed"));
}

TEST_CASE("ledgers read one at a time and several at a time give the same, and so does which one is at fault") {
    offices all;
    desk::rollup_request what;
    for (int i = 0; i < 6; ++i)
        what.ledgers.push_back(all.quiet(fmt::format("office{}", i), award(fmt::format("KB-{}", i), 1 + i % 2)));
    what.period = "2026-Q2";
    what.at_once = 1;
    const auto alone = desk::told(desk::roll_up(what)).json();
    std::vector<std::size_t> told;
    what.progress = [&](std::size_t read) { told.push_back(read); };
    for (const std::size_t at_once : {2, 4, 9}) {
        what.at_once = at_once;
        CHECK(desk::told(desk::roll_up(what)).json() == alone);
    }
    CHECK(told == std::vector<std::size_t>{1, 2, 3, 4, 5, 6, 1, 2, 3, 4, 5, 6, 1, 2, 3, 4, 5, 6});
    all.close("office4");
    auto bytes = bytes_in(all.path("office4"));
    bytes.replace(bytes.find("bale_net_weight=260.000"), 23, "bale_net_weight=960.000");
    all.at.folder().write("office4.tarewell", bytes);
    for (const std::size_t at_once : {1, 3}) {
        what.at_once = at_once;
        CHECK_THAT(message_of<records::ledger_error>([&] { (void)desk::roll_up(what); }),
                   Contains(all.path("office4")) && Contains("filed other figures"));
    }
}
