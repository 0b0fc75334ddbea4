#pragma once
#include "office/http.hpp"

#include <optional>
#include <string>

namespace tarewell::office {

/// 64 hexadecimal digits each, drawn anew for every run.
struct secrets {
    std::string key;     ///< in the link that is printed; good once
    std::string session; ///< the cookie's value
    std::string token;   ///< in every form
};

/// Who may come in: this computer's browser, once it has brought the key of the link. Whatever is refused here reads
/// and writes nothing of the ledger.
class gate {
  public:
    gate(secrets drawn, unsigned port) : drawn_{std::move(drawn)}, port_{port} {}

    /// Refuses what is no request of ours: another method, a target that is no plain path, a Host that is not this
    /// computer by this port (so that no foreign name can be turned to it, "DNS rebinding").
    [[nodiscard]] std::optional<response> refuses_form_of(const request& asked) const;
    /// The key of the link, which is good once: a cookie for it, and on to the address without the key. None where the
    /// request brings no key, or it is used up.
    [[nodiscard]] std::optional<response> exchanges_key(const request& asked);
    [[nodiscard]] bool knows(const request& asked) const;
    /// Whether a POST comes from a page of ours: by Sec-Fetch-Site (W3C Fetch Metadata) where the browser sends it, and
    /// by Origin, which is "null" under our own referrer policy and then needs the former.
    [[nodiscard]] bool comes_from_here(const request& asked) const;
    [[nodiscard]] bool is_token(std::string_view text) const;
    [[nodiscard]] const std::string& token() const { return drawn_.token; }
    [[nodiscard]] std::string link() const;

  private:
    [[nodiscard]] bool is_host(std::string_view text) const;
    [[nodiscard]] std::string cookie_name() const;

    secrets drawn_;
    unsigned port_;
    bool key_used_ = false;
};

/// Takes as long for texts of one length whatever they hold.
bool equal_in_constant_time(std::string_view a, std::string_view b);

/// What every answer carries, also a refusal: no script or style but our own files, nothing from elsewhere, no frame,
/// no guessing of types, no referrer, nothing kept.
void put_guards(response& on);

} // namespace tarewell::office
