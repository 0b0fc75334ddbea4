#pragma once
#include "office/state.hpp"
#include "quiet_season.hpp"

#include "clerk.hpp"

#include <catch2/catch.hpp>

#include <regex>

namespace tarewell::tests {

inline const office::secrets drawn{std::string(64, 'a'), std::string(64, 'b'), std::string(64, 'c')};
constexpr unsigned door_port = 8123;

/// A person with a browser at the office page of the quiet season; no socket between.
class visitor : public quiet_clerk {
  public:
    visitor() : page{ledger_path(), standing_still(), office::gate{drawn, door_port}} {
        page.around.who = "Maud Ellery";
    }

    office::state page;
    bool let_in = true;

    [[nodiscard]] office::request asks(const std::string& method, const std::string& target) const {
        office::request made{method, target, {{"host", "127.0.0.1:8123"}}};
        if (let_in) made.headers.emplace_back("cookie", "tarewell_8123=" + drawn.session);
        return made;
    }
    office::response get(const std::string& target) { return answer(page, asks("GET", target)); }
    office::response post(const std::string& target, std::vector<std::pair<std::string, std::string>> fields) {
        auto made = asks("POST", target);
        made.headers.emplace_back("origin", "http://127.0.0.1:8123");
        made.headers.emplace_back("sec-fetch-site", "same-origin");
        made.headers.emplace_back("content-type", "application/x-www-form-urlencoded");
        fields.emplace_back("token", drawn.token);
        for (const auto& [name, value] : fields)
            made.body += (made.body.empty() ? "" : "&") + office::in_query(name) + "=" + office::in_query(value);
        return answer(page, made);
    }
    /// A form with a file, as a browser writes it (RFC 7578).
    office::response send_file(const std::string& target, std::vector<std::pair<std::string, std::string>> fields,
                               const std::string& name, const std::string& bytes) {
        auto made = asks("POST", target);
        made.headers.emplace_back("origin", "http://127.0.0.1:8123");
        made.headers.emplace_back("content-type", "multipart/form-data; boundary=----edge7");
        fields.emplace_back("token", drawn.token);
        for (const auto& [field, value] : fields)
            made.body +=
                fmt::format("------edge7\r\nContent-Disposition: form-data; name=\"{}\"\r\n\r\n{}\r\n", field, value);
        made.body += fmt::format("------edge7\r\nContent-Disposition: form-data; name=\"file\"; filename=\"{}\"\r\n"
                                 "Content-Type: text/csv\r\n\r\n{}\r\n------edge7--\r\n",
                                 name, bytes);
        made.headers.emplace_back("sec-fetch-site", "same-origin");
        return answer(page, made);
    }
    /// Where a redirect leads.
    static std::string location(const office::response& of) {
        for (const auto& [name, value] : of.headers)
            if (name == "location") return value;
        return {};
    }
    /// A good ticket on bale L2, a check weight.
    static std::vector<std::pair<std::string, std::string>> ticket(const std::string& id, const std::string& net) {
        return {{"kind", "ticket"}, {"ticket", id}, {"date", "2026-05-23"}, {"scale", "P1"},     {"weighs", "bale"},
                {"subject", "L2"},  {"net", net},   {"unit", "lb"},         {"entry", "printed"}};
    }
};

inline auto holds(const std::string& text) { return Catch::Matchers::Contains(text); }

/// The value of a form's hidden field; empty where there is none.
inline std::string hidden(const std::string& body, const std::string& name) {
    std::smatch found;
    const std::regex field{"name=\"" + name + "\" value=\"([^\"]*)\""};
    return std::regex_search(body, found, field) ? found[1].str() : std::string{};
}

} // namespace tarewell::tests
