#include "audit/expected_net.hpp"
#include "figures/fair_audit.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>

namespace tarewell::figures {
namespace {

std::size_t at(int index) { return static_cast<std::size_t>(index); }

class check_maker {
  public:
    check_maker(const fair_audit& of, const audit_input& input, const records::season& season)
        : of_{of}, report_{of.report}, input_{input}, s_{season} {}

    std::vector<audit_check> run() const {
        std::vector<audit_check> made;
        for (const auto& named : report_.named)
            made.push_back(check_of(named));
        if (!report_.either.empty()) made.push_back(one_of_several());
        return made;
    }

  private:
    const fair_audit& of_;
    const audit::slip_report& report_;
    const audit_input& input_;
    const records::season& s_;

    audit_check check_of(const audit::named_slip& named) const {
        audit_check made;
        made.probability = named.item.probability;
        const auto chance = chance_in_words(named.item.probability);
        if (named.item.ticket) {
            add_ticket(made, named.item.index);
            made.sentence = fmt::format("{} (chance {}): {} Look at the paper. If it is right, say so: {}",
                                        capital(ticket_in_words(named.item.index)), chance,
                                        expected_in_words(named.item.index), confirm("ticket", made.tickets));
            return made;
        }
        add_claims(made, named.item.index);
        const auto claim = claim_in_words(named.item.index, made.registrations);
        const auto factor = factor_of(named.item.index);
        if (named.or_that_ticket) {
            add_ticket(made, named.that_bale);
            made.probability = chance_of_any({named.item, {true, named.that_bale, 0.0}});
            made.sentence = fmt::format("Either {} or {} (chance {}): the weights can't tell which. Look at both; what "
                                        "is right, say so: {} or {}",
                                        claim, ticket_in_words(named.that_bale), chance_in_words(made.probability),
                                        confirm("registration", made.registrations), confirm("ticket", made.tickets));
        } else
            made.sentence = fmt::format("{} (chance {}): the film weighs about {} times what was claimed. Look at the "
                                        "form: {}? If it is right, "
                                        "say so: {}",
                                        capital(claim), chance, ratio_in_words(factor), causes(factor),
                                        confirm("registration", made.registrations));
        return made;
    }

    /// Weights of the worlds in which one of them is wrong, together.
    [[nodiscard]] double chance_of_any(const std::vector<audit::slip_item>& items) const {
        double held = 0.0;
        for (const auto& world : report_.worlds)
            if (std::any_of(items.begin(), items.end(), [&](const auto& item) { return holds(world, item); }))
                held += world.weight;
        return held;
    }

    audit_check one_of_several() const {
        audit_check made;
        made.probability = chance_of_any(report_.either);
        std::vector<std::string> words;
        for (const auto& item : report_.either) {
            audit_check one;
            if (item.ticket) {
                add_ticket(made, item.index);
                words.push_back(ticket_in_words(item.index));
                continue;
            }
            add_claims(one, item.index);
            words.push_back(claim_in_words(item.index, one.registrations));
            made.registrations.insert(made.registrations.end(), one.registrations.begin(), one.registrations.end());
            made.growers.push_back(item.index);
        }
        const auto chance = chance_in_words(made.probability);
        made.sentence =
            words.size() == 1
                ? fmt::format("{} (chance {}): look at it.", capital(words.front()), chance)
                : fmt::format("One of these is wrong (chance {}), and the weights can't tell which: {}. Look at each; "
                              "what is right, say so with `tarewell audit confirm`.",
                              chance, fmt::join(words, "; "));
        return made;
    }

    [[nodiscard]] bool holds(const audit::slip_world& world, const audit::slip_item& item) const {
        if (item.ticket) return std::count(world.wrong_tickets.begin(), world.wrong_tickets.end(), item.index) > 0;
        return std::any_of(world.claims.begin(), world.claims.end(),
                           [&](const auto& claim) { return grower_of(claim) == item.index; });
    }

    [[nodiscard]] int grower_of(const audit::claim_slip& claim) const {
        if (claim.all_of_grower) return claim.index;
        const auto bundle = std::find(of_.season.registration.begin(), of_.season.registration.end(), claim.index) -
                            of_.season.registration.begin();
        return of_.season.weighed.bundles[static_cast<std::size_t>(bundle)].grower;
    }

    /// By which a grower's claim is multiplied in the likeliest world that doubts it.
    [[nodiscard]] double factor_of(int grower) const {
        for (const auto& world : report_.worlds)
            for (const auto& claim : world.claims)
                if (grower_of(claim) == grower) return claim.factor;
        return 1.0;
    }

    static const char* causes(double factor) {
        if (factor >= 1.9) return "a second layer, or a dimension";
        if (factor > 1.0) return "thicker film, or a dimension";
        if (factor > 0.55) return "thinner film, or a dimension";
        return "layers counted twice, a dimension, or a part not brought";
    }

    void add_ticket(audit_check& to, int row) const {
        to.tickets.push_back(s_.tickets[input_.rows[at(row)].ticket].id);
    }

    /// The registrations on which the doubt of a grower's claims rests.
    void add_claims(audit_check& to, int grower) const {
        to.growers.push_back(grower);
        double most = 0.0;
        std::vector<int> theirs;
        for (std::size_t b = 0; b < of_.season.registration.size(); ++b)
            if (of_.season.weighed.bundles[b].grower == grower) theirs.push_back(of_.season.registration[b]);
        std::sort(theirs.begin(), theirs.end());
        theirs.erase(std::unique(theirs.begin(), theirs.end()), theirs.end());
        for (const int registration : theirs)
            most = std::max(most, report_.p_registration[at(registration)]);
        for (const int registration : theirs)
            if (most > 0.0 && report_.p_registration[at(registration)] >= 0.5 * most)
                to.registrations.push_back(s_.at(of_.registrations[at(registration)]).id.text());
    }

    [[nodiscard]] std::string claim_in_words(int grower, const std::vector<std::string>& registrations) const {
        const auto& id = s_.at(input_.growers[at(grower)]).id.text();
        const auto whose =
            id == records::unknown_grower ? std::string{"of bundles without a label"} : fmt::format("of grower {}", id);
        return fmt::format("the claim of registration{} {} {}", registrations.size() > 1 ? "s" : "",
                           fmt::join(registrations, ", "), whose);
    }

    [[nodiscard]] std::string ticket_in_words(int row) const {
        const auto& what = input_.rows[at(row)];
        const auto& ticket = s_.tickets[what.ticket];
        const auto subject = what.what == audit_row::kind::bale ? fmt::format("bale {}", s_.at(what.bale).id.text())
                             : what.what == audit_row::kind::load
                                 ? fmt::format("load {}", s_.at(what.load).id.text())
                                 : fmt::format("bundle {}", s_.at(what.bundle).id.text());
        return fmt::format("ticket {} of {}", ticket.id, subject);
    }

    /// "net 3620 lb where the other weighings expect about 366 (340 to 392)."
    [[nodiscard]] std::string expected_in_words(int row) const {
        const auto unit = quantity::name_of(s_.the_award->unit);
        const double net = of_.season.weighed.bales[at(row)].net;
        auto others =
            report_.worlds.empty() ? of_.season.weighed : audit::corrected_season(of_.season, report_.worlds.front());
        std::vector<audit::pooled_bundle> inside;
        for (auto& bundle : others.bundles) {
            if (bundle.bale != row) continue;
            inside.push_back(bundle);
            bundle.bale = -1;
        }
        const auto judged = audit::judge_net(others, inside, net);
        if (judged.tickets == 0) return fmt::format("net {:.0f} {}.", net, unit);
        return fmt::format("net {:.0f} {} where the other weighings expect about {:.0f} ({:.0f} to {:.0f}).", net, unit,
                           std::max(judged.expected, 0.0), std::max(judged.low, 0.0), judged.high);
    }

    static std::string confirm(const char* what, const std::vector<std::string>& ids) {
        return fmt::format("`tarewell audit confirm {} {} --why '...'`", what, fmt::join(ids, " "));
    }

    static std::string capital(std::string text) {
        if (text[0] >= 'a' && text[0] <= 'z') text[0] = static_cast<char>(text[0] - 'a' + 'A');
        return text;
    }
};

} // namespace

std::vector<audit_check> checks_of(const fair_audit& of, const audit_input& input, const records::season& season) {
    return check_maker{of, input, season}.run();
}

} // namespace tarewell::figures
