#include "visitor.hpp"

using namespace tarewell;
using namespace tarewell::tests;

namespace {

std::string value_of(const office::response& of, const std::string& name) {
    for (const auto& [known, value] : of.headers)
        if (known == name) return value;
    return {};
}

void set(office::request& in, const std::string& name, const std::string& value) {
    std::erase_if(in.headers, [&](const auto& each) { return each.first == name; });
    in.headers.emplace_back(name, value);
}

} // namespace

TEST_CASE("the key of the link is good once, for a cookie", "[office][gate]") {
    visitor v;
    v.let_in = false;
    CHECK(v.get("/").status == 403);
    CHECK(v.get("/?key=" + std::string(64, 'x')).status == 403);
    CHECK(v.get("/?key=").status == 403);
    const auto let_in = v.get("/?key=" + drawn.key);
    CHECK(let_in.status == 303);
    CHECK(visitor::location(let_in) == "/");
    CHECK(value_of(let_in, "set-cookie") == "tarewell_8123=" + drawn.session + "; Path=/; HttpOnly; SameSite=Strict");
    const auto again = v.get("/?key=" + drawn.key);
    CHECK(again.status == 403);
    CHECK(value_of(again, "set-cookie").empty());
    v.let_in = true; // its own browser follows its link again
    CHECK(v.get("/?key=" + drawn.key).status == 303);
}

TEST_CASE("a stranger is told nothing of the ledger and gets no form", "[office][gate]") {
    visitor v;
    v.let_in = false;
    for (const auto* target : {"/", "/enter?kind=ticket", "/record?kind=grower&id=G1", "/quarter", "/nothing"}) {
        const auto told = v.get(target);
        CHECK(told.status == 403);
        CHECK_THAT(told.body, !holds(drawn.token) && !holds("basin") && !holds("Ruth") && !holds("Maud"));
    }
    CHECK(longest_body(v.page, v.asks("POST", "/files")) == 0);
}

TEST_CASE("another name for this computer is turned away", "[office][gate]") {
    visitor v;
    for (const auto* host : {"127.0.0.1:8123", "localhost:8123", "[::1]:8123"}) {
        auto asked = v.asks("GET", "/");
        set(asked, "host", host);
        CHECK(answer(v.page, asked).status == 200);
    }
    for (const auto* host : {"evil.example:8123", "127.0.0.1", "127.0.0.1:80", "127.0.0.1:8123.evil.example",
                             "LOCALHOST:8123", "0.0.0.0:8123", "", "user@127.0.0.1:8123", "127.0.0.1:8123 "}) {
        auto asked = v.asks("GET", "/");
        set(asked, "host", host);
        CHECK(answer(v.page, asked).status == 421);
    }
    auto none = v.asks("GET", "/");
    std::erase_if(none.headers, [](const auto& each) { return each.first == "host"; });
    CHECK(answer(v.page, none).status == 421);
    auto twice = v.asks("GET", "/");
    twice.headers.emplace_back("host", "127.0.0.1:8123");
    CHECK(answer(v.page, twice).status == 421);
}

TEST_CASE("what is sent from elsewhere changes nothing", "[office][gate]") {
    visitor v;
    const auto head = v.head();
    const auto sends = [&](const std::function<void(office::request&)>& changed) {
        auto asked = v.asks("POST", "/who");
        set(asked, "origin", "http://127.0.0.1:8123");
        set(asked, "sec-fetch-site", "same-origin");
        set(asked, "content-type", "application/x-www-form-urlencoded");
        asked.body = "who=Mallory&token=" + drawn.token;
        changed(asked);
        return answer(v.page, asked).status;
    };
    CHECK(sends([](auto&) {}) == 303);
    v.page.around.who = "Maud Ellery";
    CHECK(sends([](auto& of) { set(of, "origin", "http://evil.example"); }) == 403);
    CHECK(sends([](auto& of) { set(of, "origin", "https://127.0.0.1:8123"); }) == 403);
    CHECK(sends([](auto& of) { set(of, "origin", "http://localhost:8123"); }) == 403);
    CHECK(sends([](auto& of) { set(of, "sec-fetch-site", "cross-site"); }) == 403);
    CHECK(sends([](auto& of) { set(of, "sec-fetch-site", "same-site"); }) == 403);
    CHECK(sends([](auto& of) { of.headers.emplace_back("sec-fetch-site", "same-origin"); }) == 403);
    CHECK(sends([](auto& of) { of.headers.emplace_back("origin", "http://127.0.0.1:8123"); }) == 403);
    CHECK(sends([](auto& of) {
              std::erase_if(of.headers,
                            [](const auto& each) { return each.first == "origin" || each.first == "sec-fetch-site"; });
          }) == 403);
    CHECK(sends([](auto& of) {
              set(of, "origin", "null");
              std::erase_if(of.headers, [](const auto& each) { return each.first == "sec-fetch-site"; });
          }) == 403);
    CHECK(sends([](auto& of) { of.body = "who=Mallory"; }) == 403);
    CHECK(sends([](auto& of) { of.body = "who=Mallory&token=" + std::string(64, 'x'); }) == 403);
    CHECK(sends([](auto& of) { of.body = "who=Mallory&token=" + drawn.token + "&token=" + drawn.token; }) == 403);
    CHECK(sends([](auto& of) { set(of, "content-type", "text/plain"); }) == 403);
    CHECK(sends([](auto& of) { set(of, "cookie", "tarewell_8123=" + std::string(64, 'x')); }) == 403);
    CHECK(v.page.around.who == "Maud Ellery");
    CHECK(v.head() == head);
    // What browsers send under our own referrer policy (W3C Fetch, "append a request Origin header").
    CHECK(sends([](auto& of) { set(of, "origin", "null"); }) == 303);
}

TEST_CASE("only plain addresses and three methods are known", "[office][gate]") {
    visitor v;
    CHECK(answer(v.page, v.asks("PUT", "/")).status == 405);
    CHECK(answer(v.page, v.asks("CONNECT", "127.0.0.1:80")).status == 405);
    CHECK(answer(v.page, v.asks("OPTIONS", "*")).status == 405);
    for (const auto* target : {"http://127.0.0.1:8123/", "//evil.example/", "/../etc/passwd", "/%2e%2e/etc/passwd",
                               "/office.css/../../x", "/nothing", "/record?kind=ticket&id=%zz"})
        CHECK_THAT(std::to_string(v.get(target).status), Catch::Matchers::Matches("40[04]"));
    CHECK(v.get("/" + std::string(5000, 'a')).status == 400);
    CHECK(v.get("/a\r\nset-cookie: x").status == 400);
    CHECK(v.get("/document?entry=../../etc/passwd").status == 422);
    CHECK(answer(v.page, v.asks("POST", "/")).status == 404);
}

TEST_CASE("every answer keeps script, frames and strangers out", "[office][gate]") {
    visitor v;
    auto foreign = v.asks("GET", "/");
    set(foreign, "host", "evil.example");
    for (const auto& told : {v.get("/"), v.get("/office.css"), v.get("/nothing"), answer(v.page, foreign),
                             v.get("/form?quarter=2026-Q2&form=quarter_page")}) {
        const auto policy = value_of(told, "content-security-policy");
        CHECK_THAT(policy, holds("default-src 'none'") && holds("frame-ancestors 'none'") &&
                               holds("form-action 'self'") && holds("base-uri 'none'") && !holds("unsafe"));
        CHECK(value_of(told, "x-content-type-options") == "nosniff");
        CHECK(value_of(told, "referrer-policy") == "no-referrer");
        CHECK(value_of(told, "cache-control") == "no-store");
    }
}

TEST_CASE("a script in a name is text on every page that shows it", "[office][gate]") {
    visitor v;
    const std::string script = "<script>alert(1)</script>\"'><img src=x onerror=alert(2)>";
    v.must({"record", "grower", "--grower", "G9", "--name", script, "--farm", "=1+1", "--region", "KB"});
    v.must({"record", "cover", "--registration", "R9", "--date", "2026-05-05", "--grower", "G9", "--site", "S1",
            "--cover", "1", "--length_ft", "48", "--width_ft", "30", "--layers", "1"});
    for (const auto* target :
         {"/", "/record?kind=grower&id=G9", "/record?kind=cover&id=R9", "/correct?kind=grower&id=G9", "/find?q=alert",
          "/find?q=%3Cscript%3Ealert(1)%3C%2Fscript%3E", "/enter?kind=bundle",
          "/enter?kind=ticket&ticket=%22%3E%3Cscript%3E", "/flags?code=%3Cscript%3E", "/record?kind=%3Cscript%3E&id=1",
          "/quarter?quarter=%3Cscript%3E"}) {
        INFO(target);
        const auto body = v.get(target).body;
        CHECK_THAT(body, !holds("<script>") && !holds("<img"));
    }
    // As CSV a name that a spreadsheet takes for a formula is text.
    CHECK_THAT(v.get("/records?kind=grower").body, holds("'=1+1"));
}

TEST_CASE("texts are compared in full length", "[office][gate]") {
    CHECK(office::equal_in_constant_time("abc", "abc"));
    CHECK_FALSE(office::equal_in_constant_time("abc", "abd"));
    CHECK_FALSE(office::equal_in_constant_time("abc", "bbc"));
    CHECK_FALSE(office::equal_in_constant_time("abc", "ab"));
    CHECK_FALSE(office::equal_in_constant_time("", "a"));
}
