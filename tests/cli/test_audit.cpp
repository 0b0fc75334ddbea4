#include "base_season.hpp"
#include "context.hpp"
#include "desk/audit_view.hpp"
#include "ledger_oracle.hpp"

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include <sstream>

namespace {

using namespace tarewell;
using namespace tarewell::tests;
using nlohmann::json;

/// A ledger made from a folder of CSV files, and commands run on it.
class audited {
  public:
    explicit audited(const std::string& season_folder) {
        run({"new", folder_.file("season.tarewell")});
        run({"intake", "season", season_folder});
    }
    std::string run(std::vector<std::string> arguments, int expected = 0) {
        std::ostringstream out, err;
        cli::context with{out, err, false,
                          [&](const std::string& name) {
                              return name == "TAREWELL_LEDGER" ? folder_.file("season.tarewell") : std::string{};
                          },
                          standing_still()};
        const int exit = cli::run(arguments, with);
        INFO(err.str());
        REQUIRE(exit == expected);
        return expected == 0 ? out.str() : err.str();
    }
    json ask(std::vector<std::string> arguments) {
        arguments.insert(arguments.begin(), "audit");
        arguments.emplace_back("--json");
        return json::parse(run(arguments));
    }
    [[nodiscard]] const temporary_folder& folder() const { return folder_; }

  private:
    temporary_folder folder_;
};

std::string sample_folder() { return source_path("sample_data/season"); }

json line_of(const json& list, const std::string& key, const std::string& id) {
    for (const auto& each : list)
        if (each.at(key) == id) return each;
    throw std::logic_error("no line " + id);
}

bool mentions(const std::string& text, const std::string& part) { return text.find(part) != std::string::npos; }

} // namespace

TEST_CASE("the data set that lme4 fitted, through the ledger, gives the reference fit to six digits") {
    const temporary_folder season;
    write_oracle_season(season);
    audited ledger{season.path()};
    const auto fit = ledger.ask({"growers"}).at("fit");
    // lme4, nlme and dense REML, as written in the project's statistics notes
    CHECK(fit.at("mu").get<double>() == Approx(.991258264).epsilon(1e-6));
    CHECK(fit.at("sd_grower").get<double>() == Approx(.1808872).epsilon(1e-6));
    CHECK(fit.at("sd_site").get<double>() == Approx(.09206989).epsilon(1e-6));
    CHECK(fit.at("sd_bundle").get<double>() == Approx(.2617851).epsilon(1e-6));
    CHECK(fit.at("reml").get<double>() == Approx(56.51819778).epsilon(1e-6));
    CHECK(fit.at("n") == 60);
    CHECK(fit.at("mu_by_basis").at("own") == fit.at("mu"));
}

TEST_CASE("a tolerance of 10%, 10 and 0.1 is the same, and nonsense is refused") {
    CHECK(desk::read_tolerance("10%") == Approx(0.1));
    CHECK(desk::read_tolerance("10") == Approx(0.1));
    CHECK(desk::read_tolerance("0.1") == Approx(0.1));
    CHECK(desk::read_tolerance("1") == Approx(0.01));
    CHECK(desk::read_tolerance("0.5%") == Approx(0.005));
    for (const auto* wrong : {"", "%", "0", "100", "-5", "ten", "1e1", "100%"})
        CHECK(message_of<records::input_error>([&] { desk::read_tolerance(wrong); }) ==
              fmt::format("'{}' is not a tolerance; write ten percent as 10%, 10 or 0.1", wrong));
}

TEST_CASE("growers of the sample season fit, or wait for what is still to come, and unknown is nobody") {
    audited ledger{sample_folder()};
    const auto all = ledger.ask({"growers"});
    CHECK(line_of(all.at("growers"), "grower", "G041").at("call") == "fits");
    const auto unweighed = line_of(all.at("growers"), "grower", "G026");
    CHECK(unweighed.at("ratio").is_null());
    CHECK(unweighed.at("call") == "too little data");
    CHECK(unweighed.at("reason") == "waits for 2 bundles on hand");
    CHECK(line_of(all.at("growers"), "grower", "G006").at("note") == "waits for B044");
    CHECK(line_of(all.at("growers"), "grower", "G063").at("with") == json::array({"G065"}));
    const auto nobody = line_of(all.at("growers"), "grower", "unknown");
    CHECK(nobody.at("call") == "too little data");
    CHECK(nobody.at("ratio").is_null());
    CHECK(mentions(all.at("method"), "averaged over the worlds"));
    const auto text = ledger.run({"audit", "growers"});
    CHECK(mentions(text, "held against others who claimed in the same way for the same kind of structure"));
    CHECK(mentions(text, "Only the program is held against 1"));
    CHECK(mentions(text, "\"Too little data\" is not \"fits\""));
}

TEST_CASE("three seasons with slips, through the ledger, get a dense prototype's ratios, chances and calls") {
    // data/slips: a program in another language (numpy and scipy, dense matrices), on the same grid.
    // The ledger keeps thousandths; c's estimates have six digits after the point.
    for (const auto& [name, within] : {std::pair<std::string, double>{"a", 1e-6}, {"b", 1e-6}, {"c", 1e-4}}) {
        INFO(name);
        const temporary_folder season;
        write_slip_season(season, name);
        audited ledger{season.path()};
        const auto all = ledger.ask({"growers"});
        const auto answers = json::parse(bytes_in(source_path("tests/audit/data/slips/" + name + "_answers.json")));
        const std::map<std::string, std::string> ours_and_theirs{{"ratio", "ratio"},        {"low", "low"},
                                                                 {"high", "high"},          {"p_runs_high", "p_light"},
                                                                 {"p_runs_low", "p_heavy"}, {"p_slip", "p_slip"}};
        for (const auto& [grower, theirs] : answers.at("growers").items()) {
            INFO(grower);
            const auto ours = line_of(all.at("growers"), "grower", grower);
            for (const auto& [our, their] : ours_and_theirs)
                CHECK(ours.at(our).get<double>() == Approx(theirs.at(their).get<double>()).margin(within).epsilon(0));
            CHECK(ours.at("call") == theirs.at("call"));
        }
        REQUIRE(all.at("checks").size() == answers.at("named").size());
    }
}

TEST_CASE("a wrong ticket and a wrong claim are named as what to check, before any talk with a grower") {
    const temporary_folder season;
    write_slip_season(season, "b"); // ticket T002 is wrong, and G15 claimed half
    audited ledger{season.path()};
    for (const auto* name : {"growers", "bales"}) {
        const auto checks = ledger.ask({name}).at("checks");
        REQUIRE(checks.size() == 2);
        CHECK(checks[0].at("registrations") == json::array({"R150", "R151"}));
        CHECK(mentions(checks[0].at("sentence"), "about 2.00 times what was claimed"));
        CHECK(mentions(checks[0].at("sentence"), "a second layer, or a dimension?"));
        CHECK(checks[1].at("tickets") == json::array({"T002"}));
        CHECK(mentions(checks[1].at("sentence"), "Ticket T002 of bale L002 (chance 94 %): net 287 lb"));
    }
    const auto worst = ledger.ask({"bales"}).at("look_at").front();
    CHECK(worst.at("bale") == "L002");
    CHECK(worst.at("to_check") == true);
    CHECK(worst.at("p_wrong").get<double>() == Approx(.9445815844381342).margin(1e-6)); // data/slips/b_answers.json

    const temporary_folder either;
    write_slip_season(either, "c"); // either G01's claim or ticket T002
    audited open{either.path()};
    const auto check = open.ask({"growers"}).at("checks").front();
    CHECK(check.at("tickets") == json::array({"T002"}));
    CHECK(check.at("registrations") == json::array({"R010", "R011"}));
    CHECK(mentions(check.at("sentence"), "the weights can't tell which"));
    CHECK(line_of(open.ask({"growers"}).at("growers"), "grower", "G01").at("note") ==
          "check first: registration R010, R011 or ticket T002");
}

TEST_CASE("what the office confirms is no slip any more, until it is corrected or the confirmation is voided") {
    const temporary_folder season;
    write_slip_season(season, "c"); // either G01's claim or ticket T002
    audited ledger{season.path()};
    const auto chance = [&](std::vector<std::string> asked) {
        asked.insert(asked.begin(), "growers");
        return line_of(ledger.ask(asked).at("growers"), "grower", "G01").at("p_slip").get<double>();
    };
    const double open = chance({});
    const auto before = ledger.ask({"growers"}).at("as_of");
    const std::vector<std::string> confirm{"audit", "confirm", "ticket", "T002", "--why", "seen with the scale house"};
    CHECK(mentions(ledger.run(confirm), "ticket T002 is confirmed"));
    CHECK(chance({}) > .9);
    CHECK(chance({"--as-of", before.dump()}) == Approx(open));
    CHECK(mentions(ledger.run(confirm), "nothing was changed"));
    ledger.run({"void", "confirmation", "ticket", "T002", "--why", "it was another ticket"});
    CHECK(chance({}) == Approx(open));

    ledger.run(confirm);
    ledger.run({"correct", "ticket", "T002", "--weigher", "Dell Rourke", "--why", "left out"});
    CHECK(chance({}) == Approx(open));

    ledger.run({"audit", "confirm", "registration", "R010", "R011", "--why", "measured again"});
    CHECK(chance({}) == 0.0);
    const auto checks = ledger.ask({"growers"}).at("checks");
    CHECK(checks.front().at("tickets") == json::array({"T002"}));
    CHECK(mentions(ledger.run({"audit", "confirm", "ticket", "T999", "--why", "seen"}, cli::bad_input), "T999"));
    ledger.run({"ledger", "check"});
}

TEST_CASE("growers' shares of the scale weight sum to what was weighed") {
    audited ledger{sample_folder()};
    const auto all = ledger.ask({"growers"});
    double shares = 0;
    for (const auto& each : all.at("growers"))
        shares += std::stod(each.at("scale_share").get<std::string>());
    const auto total = ledger.ask({"total"});
    const double weighed = std::stod(total.at("weighed").get<std::string>()) +
                           std::stod(total.at("on_hand").at("weighed_alone").get<std::string>());
    CHECK(shares == Approx(weighed).epsilon(1e-9));
}

TEST_CASE("every audit command answers on the sample season in words and in JSON, quarter by quarter") {
    audited ledger{sample_folder()};
    for (const auto* name : {"growers", "sites", "constants", "bales", "scales", "total", "next"}) {
        INFO(name);
        const auto text = ledger.run({"audit", name});
        CHECK_FALSE(mentions(text, "nan"));
        CHECK(mentions(text, "can't"));
        CHECK_FALSE(ledger.ask({name}).at("sentence").get<std::string>().empty());
        for (const auto* quarter : {"2026-Q1", "2026-Q2", "2026-Q3"})
            CHECK(ledger.ask({name, "--quarter", quarter}).is_object());
        CHECK(ledger.run({"audit", name}) == text);
    }
}

TEST_CASE("the total has its interval around what is expected, and the simple estimates say their form") {
    audited ledger{sample_folder()};
    const auto total = ledger.ask({"total", "--quarter", "2026-Q2"});
    const auto& hand = total.at("on_hand");
    const auto number = [](const json& text) { return std::stod(text.get<std::string>()); };
    CHECK(number(hand.at("low")) < number(hand.at("expected")));
    CHECK(number(hand.at("expected")) < number(hand.at("high")));
    CHECK(number(total.at("total").at("expected")) ==
          Approx(number(total.at("weighed")) + number(hand.at("expected"))).epsilon(1e-9));
    CHECK(number(total.at("after_residue").at("expected")) ==
          Approx(number(total.at("total").at("expected")) - number(total.at("residue"))).epsilon(1e-9));
    CHECK(line_of(total.at("beside"), "name", "ratio").at("form") == "A");
    CHECK(line_of(total.at("beside"), "name", "pro rata").at("standard_error").is_null());
}

TEST_CASE("the audit's total names itself an estimate and shows the filed figure beside it") {
    audited ledger{sample_folder()};
    for (const auto* quarter : {"2026-Q1", "2026-Q2", "2026-Q3"}) {
        const auto filed = ledger.ask({"total", "--quarter", quarter}).at("filed");
        const auto shown = json::parse(ledger.run({"quarter", "show", quarter, "--json"})).at("figures");
        CHECK(filed.at("value") == line_of(shown, "name", "diverted_weight").at("value"));
    }
    const auto text = ledger.run({"audit", "total"});
    CHECK(mentions(text, "the audit's estimate, not the figure that is filed"));
    CHECK(mentions(text, "Filed for these days"));
    CHECK_FALSE(mentions(text, "Diverted "));
}

TEST_CASE("the program's constant is held against the scale with an interval") {
    audited ledger{sample_folder()};
    const auto all = ledger.ask({"constants"});
    const auto constant = line_of(all.at("classes"), "class", "constant");
    CHECK(constant.at("area_weight_lb_per_ft2").at("suggested").get<double>() ==
          Approx(0.04 * constant.at("ratio").get<double>()).epsilon(1e-12));
    CHECK(all.at("in_use").at("clean_6_mil_lb_per_ft2").get<double>() == Approx(0.028717).epsilon(1e-4));
    CHECK(mentions(all.at("sentence"), "no grower's"));
}

TEST_CASE("a letter asks, in at most three digits, and goes to nobody who is not surely off") {
    const temporary_folder season;
    write_slip_season(season, "b");
    audited off{season.path()};
    const auto low = off.ask({"letter", "G15"});
    CHECK(low.at("call") == "runs low");
    const auto letter = low.at("letter").get<std::string>();
    CHECK(mentions(letter, "Thank you"));
    CHECK(mentions(letter, "202 lb for each 100 lb claimed (95 % interval 162 to 228)"));
    CHECK(mentions(letter, "a second layer of film came off that the form doesn't show"));
    CHECK(mentions(letter, "?"));
    for (const auto* word : {"constant", "wrong", "fault", "error", "too high", "too low"})
        CHECK_FALSE(mentions(letter, word));
    std::size_t digits = 0;
    for (const char c : letter) {
        digits = c >= '0' && c <= '9' ? digits + 1 : 0;
        CHECK(digits <= 3);
    }
    CHECK(mentions(off.run({"audit", "letter", "G00"}), "No letter for G00: too little data"));

    const temporary_folder open;
    write_slip_season(open, "a");
    audited unsettled{open.path()};
    const auto first = unsettled.ask({"letter", "G15"});
    CHECK(first.at("letter").is_null());
    CHECK(first.at("call") == "check first");
    CHECK(first.at("reason") == "check first: registration R150, R151, R152");

    audited ledger{sample_folder()};
    CHECK(ledger.ask({"letter", "G026"}).at("reason") == "too little data; waits for 2 bundles on hand");
    CHECK(mentions(ledger.run({"audit", "letter", "G999"}, cli::bad_input), "no grower 'G999' is defined"));
    CHECK(mentions(ledger.run({"audit", "letter", "unknown"}, cli::bad_input), "nobody to write to"));
}

TEST_CASE("a sample is the same for the same seed, and is evaluated afterwards") {
    audited ledger{sample_folder()};
    for (const auto* method : {"attribute", "pps", "monetary"}) {
        INFO(method);
        const std::vector<std::string> ask{"sample", "--method", method,   "--of", "bales",
                                           "--size", "8",        "--seed", "42"};
        const auto first = ledger.ask(ask);
        CHECK(first == ledger.ask(ask));
        CHECK(first.at("evaluation").is_null());
        auto other = ask;
        other.back() = "43";
        CHECK(first.at("items") != ledger.ask(other).at("items"));
    }
    const auto none = ledger.ask({"sample", "--size", "20", "--seed", "1", "--errors", "0"});
    CHECK(none.at("evaluation").at("rate") == 0.0);
    const std::vector<std::string> money{"sample", "--method", "monetary", "--of", "costs",
                                         "--size", "10",       "--seed",   "5"};
    const auto item = ledger.ask(money).at("items").front().at("item").get<std::string>();
    auto found = money;
    found.insert(found.end(), {"--found", item + "=1.00"});
    CHECK(ledger.ask(found).at("evaluation").at("known").get<double>() > 0);
    found.back() = "X=1";
    found.insert(found.begin(), "audit");
    CHECK(mentions(ledger.run(found, cli::bad_input), "not in the sample"));
}

TEST_CASE("the audit's page holds its pictures whole and the numbers as tables") {
    audited ledger{sample_folder()};
    const auto file = ledger.folder().file("audit.html");
    ledger.run({"audit", "page", file});
    const auto page = bytes_in(file);
    for (const auto* part :
         {"id=\"chart-ratios\"", "id=\"chart-weighings\"", "id=\"chart-control-1\"", "<table>", "</html>"})
        CHECK(mentions(page, part));
    ledger.run({"audit", "page", file});
    CHECK(bytes_in(file) == page);
}

TEST_CASE("on the audit's page a call is the same words in picture and table, and what to check stands first") {
    const temporary_folder season;
    write_slip_season(season, "b");
    audited ledger{season.path()};
    const auto file = ledger.folder().file("audit.html");
    ledger.run({"audit", "page", file});
    const auto page = bytes_in(file);
    const auto times = [&](const std::string& part) {
        std::size_t count = 0;
        for (auto from = page.find(part); from != std::string::npos; from = page.find(part, from + 1))
            ++count;
        return count;
    };
    CHECK(times("G15 runs low") >= 2);
    CHECK(page.find("Ticket T002 of bale L002") < page.find("id=\"chart-ratios\""));
    CHECK(mentions(page, "<td>runs low</td>"));
}

TEST_CASE("seasons too small to learn from get clear answers in every command") {
    std::map<std::string, std::string> files = base_files();
    const auto with_tickets = [&](const std::string& tickets) {
        files["tickets.csv"] = "ticket,date,scale,weighs,subject,gross,tare,net,unit,entry\n" + tickets;
        auto folder = std::make_unique<temporary_folder>();
        for (const auto& [name, text] : files)
            folder->write(name, text);
        return folder;
    };
    for (const auto* tickets : {"", "T1,2026-05-21,P1,bale,L1,150,40,110,lb,printed\n"}) {
        const auto folder = with_tickets(tickets);
        audited ledger{folder->path()};
        for (const auto* name : {"growers", "sites", "constants", "bales", "scales", "total", "next"}) {
            INFO(name << ": " << tickets);
            const auto text = ledger.run({"audit", name, "--json"});
            CHECK_FALSE(mentions(text, "nan"));
            CHECK_FALSE(json::parse(text).at("sentence").get<std::string>().empty());
            ledger.run({"audit", name});
        }
        const auto growers = ledger.ask({"growers"});
        CHECK(growers.at("fit").at("sd_grower").is_null());
        CHECK(
            mentions(growers.at("reason"), *tickets == '\0' ? "No bale with a weight" : "One weighing is not enough"));
        CHECK(ledger.ask({"letter", "G1"}).at("letter").is_null());
        CHECK(ledger.ask({"total"}).at("total").at("expected").is_null() == (*tickets == '\0'));
        ledger.run({"audit", "page", ledger.folder().file("a.html")});
    }
}

TEST_CASE("weights copied from the claims are named as such, and nothing is called") {
    auto files = base_files();
    files["receipts.csv"] = "receipt,date,site,bundle,outcome\n";
    files["bales.csv"] = "bale,date,site,bundle\n";
    files["tickets.csv"] = "ticket,date,scale,weighs,subject,net,unit,entry\n";
    for (const auto& [bundle, net] : {std::pair{1, "57.6"}, {2, "57.6"}, {3, "57.6"}, {4, "40"}, {5, "41.5"}}) {
        files["receipts.csv"] += fmt::format("RC{0},2026-05-10,S1,B{0},accepted\n", bundle);
        files["bales.csv"] += fmt::format("L{0},2026-05-20,S2,B{0}\n", bundle);
        files["tickets.csv"] += fmt::format("T{0},2026-05-21,P1,bale,L{0},{1},lb,manual\n", bundle, net);
    }
    for (const auto* other : {"hauls.csv", "rejects.csv", "shipments.csv", "acceptances.csv"})
        files.erase(other);
    const temporary_folder folder;
    for (const auto& [name, text] : files)
        folder.write(name, text);
    audited ledger{folder.path()};
    const auto growers = ledger.ask({"growers"});
    CHECK(mentions(growers.at("reason"), "check whether weights were copied"));
    CHECK(growers.at("fit").at("sd_bundle").is_null());
    for (const auto& each : growers.at("growers"))
        CHECK(each.at("call") == "too little data");
    for (const auto* name : {"sites", "constants", "bales", "total", "next"})
        CHECK(ledger.ask({name}).is_object());
}

TEST_CASE("days that can't be read are refused in words") {
    audited ledger{sample_folder()};
    CHECK(mentions(ledger.run({"audit", "growers", "--from", "5/1/2026"}, cli::bad_input), "write it as 2026-05-14"));
    CHECK(mentions(ledger.run({"audit", "growers", "--from", "2026-06-01", "--to", "2026-05-01"}, cli::bad_input),
                   "is before"));
    CHECK(mentions(ledger.run({"audit", "growers", "--tolerance", "ten"}, cli::bad_input), "is not a tolerance"));
    CHECK(ledger.ask({"growers", "--from", "2026-07-01"}).at("from") == "2026-07-01");
}

TEST_CASE("a quarter's figures of what is on hand are those of the total through its last day") {
    audited ledger{sample_folder()};
    const auto hand = ledger.ask({"total", "--to", "2026-09-30"}).at("on_hand");
    const auto shown = json::parse(ledger.run({"quarter", "show", "2026-Q3", "--json"})).at("figures");
    for (const auto* end : {"expected", "low", "high"}) {
        const auto figure = line_of(shown, "name", std::string{"on_hand_"} + end);
        CHECK(figure.at("value") == hand.at(end));
        CHECK(figure.at("evidence") == hand.at("bundles"));
    }
    CHECK(ledger.run({"quarter", "show", "2026-Q3", "--json"}) == ledger.run({"quarter", "show", "2026-Q3", "--json"}));
    CHECK(mentions(ledger.run({"trace", "on_hand_expected", "--quarter", "2026-Q3"}), "receipt"));
}
