#pragma once
#include "desk/find.hpp"

namespace tarewell::desk {

/// A record with all by which it may be called.
struct named_thing {
    found_thing told;
    std::vector<std::string> names = {};  ///< name, farm, e-mail address: each as a whole, or a part of it
    std::vector<std::string> places = {}; ///< towns and hosts: a part of it where no name has it
    std::string phone = {};
};

std::vector<named_thing> named_things(const records::season& among, records::kind which);
std::vector<named_thing> named_processors(const records::season& among);

} // namespace tarewell::desk
