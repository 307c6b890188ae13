#include "serve/server.h"

#include <gtest/gtest.h>

#include <chrono>

#include "serve/own_names.h"
#include "serve/running.h"

namespace stickwright {
namespace {

using nlohmann::json;

TEST(Server, ServesThePageWithTheHeadersThatEveryReplyHas) {
  Running running;
  Client client = running.client();
  for (const char* path : {"/", "/index.html", "/assets/index-4f9a21bc.js", "/api/folder", "/nowhere"}) {
    const HttpReply reply = client.get(path);
    EXPECT_EQ(reply.status, std::string(path) == "/nowhere" ? 404 : 200) << path;
    EXPECT_EQ(reply.headers.at("X-Content-Type-Options"), "nosniff");
    EXPECT_EQ(reply.headers.at("Referrer-Policy"), "no-referrer");
    EXPECT_EQ(reply.headers.at("Cross-Origin-Resource-Policy"), "same-origin");
    EXPECT_TRUE(reply.headers.at("Content-Security-Policy").starts_with("default-src 'self';"));
    EXPECT_EQ(reply.headers.count("Access-Control-Allow-Origin"), 0u);
  }
  EXPECT_EQ(client.get("/api/folder").headers.at("Cache-Control"), "no-store");
}

TEST(Server, AFileOfThePageThatIsKnownIsNotSentAgain) {
  Running running;
  Client client = running.client();
  const std::string etag = client.get("/").headers.at("ETag");
  EXPECT_EQ(client.get("/", "If-None-Match: " + etag + "\r\n").status, 304);
  EXPECT_EQ(client.get("/", "If-None-Match: \"other\"\r\n").status, 200);
}

TEST(Server, NoPathOfARequestReachesTheDisk) {
  Running running;
  for (const char* path :
       {"/../secret.toml", "/../folder/shop.toml", "/assets/../../secret.toml", "/%2e%2e/secret.toml",
        "/%2e%2e%2fsecret.toml", "/..%2fsecret.toml", "/assets/%2e%2e/%2e%2e/secret.toml", "/index.html%00.js",
        "//etc/passwd", "/etc/passwd", "/..\\secret.toml", "/%252e%252e/secret.toml", "/api/../../secret.toml",
        "/./index.html", "/assets/", "/INDEX.HTML"}) {
    const HttpReply reply = running.client().get(path);
    EXPECT_TRUE(reply.status == 404 || reply.status == 400) << path << " " << reply.status;
    EXPECT_EQ(reply.body.find("secret = 1"), std::string::npos) << path;
  }
}

TEST(Server, TheFolderIsReadByItsOwnRules) {
  Running running;
  for (const char* name : {"../secret.toml", "%2e%2e%2fsecret.toml", "/etc/passwd", "spring/../../secret.toml"}) {
    const HttpReply reply = running.client().get(std::string("/api/file?name=") + name);
    EXPECT_EQ(reply.status, 403) << name;
    EXPECT_EQ(reply.code(), "outside_folder") << name;
  }
  EXPECT_EQ(running.client().get("/api/file?name=shop.toml%00.txt").status, 400);
  EXPECT_EQ(running.client().get("/api/file").code(), "bad_name");
  EXPECT_EQ(running.client().get("/api/file?name=nix.toml").status, 404);
  const auto file = running.client().get("/api/file?name=spring/batch.toml").json();
  EXPECT_EQ(file["text"], "shop = \"../shop.toml\"\n[[puzzle]]\ndesign = \"../star.toml\"\n");
  EXPECT_EQ(file["version"], version_of(file["text"].get<std::string>()));
}

TEST(Server, TheFolderIsListedByKind) {
  Running running;
  const auto list = running.client().get("/api/folder").json();
  EXPECT_EQ(list["name"], "folder");
  EXPECT_EQ(list["designs"], json::parse(R"([{"file": "star.toml", "name": "a star", "family": "mitered"}])"));
  EXPECT_EQ(list["shops"], json::parse(R"([{"file": "shop.toml", "name": "a shop"}])"));
  EXPECT_EQ(list["batches"], json::parse(R"([{"file": "spring/batch.toml", "name": "spring/batch.toml",
                                              "designs": ["star.toml"], "shop": "shop.toml"}])"));
  EXPECT_EQ(list["truings"], json::parse(R"([{"file": "truing.toml"}])"));
  ASSERT_EQ(list["broken"].size(), 1u);
  EXPECT_EQ(list["broken"][0]["file"], "broken.toml");
  EXPECT_EQ(list["broken"][0]["where"].get<std::string>().find("broken.toml:1"), 0u);
  EXPECT_EQ(list["lan"], false);
}

TEST(Server, AWrongHostIsMisdirected) {
  Running running;
  Client client = running.client();
  client.send("GET / HTTP/1.1\r\nHost: evil.example:" + std::to_string(running.port()) + "\r\n\r\n");
  const HttpReply reply = client.read_reply();
  EXPECT_EQ(reply.status, 421);
  EXPECT_EQ(reply.code(), "wrong_host");
}

TEST(Server, TwoHostsAreNone) {
  Running running;
  Client client = running.client();
  client.send("GET / HTTP/1.1\r\nHost: " + client.host() + "\r\nHost: evil.example\r\n\r\n");
  EXPECT_EQ(client.read_reply().status, 421);
}

TEST(Server, AnotherSitesPageIsRefused) {
  Running running;
  Client client = running.client();
  const HttpReply read = client.get("/api/folder", "Origin: http://evil.example\r\n");
  EXPECT_EQ(read.status, 403);
  EXPECT_EQ(read.code(), "foreign_origin");
  const HttpReply written = running.client().ask(
      "POST", "/api/test/echo", "Origin: http://evil.example\r\nContent-Type: application/json\r\n", "{}");
  EXPECT_EQ(written.status, 403);
  EXPECT_EQ(running.client().ask("OPTIONS", "/api/test/echo", "Origin: http://evil.example\r\n", "").status, 403);
}

TEST(Server, AFormOfAnotherSiteCannotPost) {
  Running running;
  Client client = running.client();
  const HttpReply reply = client.ask(
      "POST", "/api/test/echo", "Origin: http://" + client.host() + "\r\nContent-Type: text/plain\r\n", "{\"a\": 1}");
  EXPECT_EQ(reply.status, 415);
  EXPECT_EQ(reply.code(), "not_json");
}

TEST(Server, ABodyIsOneJsonObject) {
  Running running;
  Client client = running.client();
  EXPECT_EQ(client.post("/api/test/echo", R"({"a": [1, 2]})").json()["got"], json::parse(R"({"a": [1, 2]})"));
  for (const char* body : {"[]", "7", "{", "{\"a\": }", "\xff"}) {
    const HttpReply reply = client.post("/api/test/echo", body);
    EXPECT_EQ(reply.status, 400) << body;
    EXPECT_EQ(reply.code(), "bad_json") << body;
  }
  EXPECT_EQ(client.post("/api/test/echo", std::string(500'000, '[')).code(), "bad_json");
}

TEST(Server, ABodyNestsThirtyTwoLevelsAtMost) {
  Running running;
  Client client = running.client();
  const auto nested = [](int lists) { return R"({"a": )" + std::string(lists, '[') + std::string(lists, ']') + "}"; };
  EXPECT_EQ(client.post("/api/test/echo", nested(31)).status, 200);
  for (const int lists : {32, 100'000}) EXPECT_EQ(client.post("/api/test/echo", nested(lists)).code(), "bad_json");
  // Brackets in a text are text.
  const std::string text = R"({"a": "\"[)" + std::string(100, '[') + "\"}";
  EXPECT_EQ(client.post("/api/test/echo", text).status, 200) << text;
}

TEST(Server, ABodyOfMoreThanAMegabyteIsTooLarge) {
  Running running;
  const std::string fits = R"({"a": ")" + std::string(kMostBodyBytes - 9, 'x') + "\"}";
  ASSERT_EQ(fits.size(), kMostBodyBytes);
  EXPECT_EQ(running.client().post("/api/test/echo", fits).status, 200);
  const HttpReply reply = running.client().post("/api/test/echo", fits + " ");
  EXPECT_EQ(reply.status, 413);
  EXPECT_EQ(reply.code(), "too_large");
}

TEST(Server, ABodyThatDoesNotSayHowLongItIsHasTheSameLimit) {
  Running running;
  Client client = running.client();
  client.send("POST /api/test/echo HTTP/1.1\r\nHost: " + client.host() + "\r\n" + client.own_page() +
              "Transfer-Encoding: chunked\r\n\r\n");
  const std::string chunk = "10000\r\n" + std::string(0x10000, ' ') + "\r\n";
  for (int i = 0; i < 20; ++i) client.send(chunk);
  EXPECT_EQ(client.read_reply().status, 413);
}

TEST(Server, TwentyThousandHeadersAreTooMany) {
  Running running;
  std::string headers;
  for (int i = 0; i < 20'000; ++i) headers += "X-" + std::to_string(i) + ": y\r\n";
  const HttpReply reply = running.client().get("/", headers);
  EXPECT_EQ(reply.status, 431);
  EXPECT_EQ(reply.code(), "headers_too_large");
  EXPECT_EQ(running.client().get("/" + std::string(20'000, 'a')).status, 431);
}

TEST(Server, WhatIsNoHttpIsToldSo) {
  Running running;
  Client client = running.client();
  client.send("hello, are you there?\r\n\r\n");
  EXPECT_EQ(client.read_reply().status, 400);
  EXPECT_TRUE(client.is_closed_by_server());
  Client older = running.client();
  older.send("GET / HTTP/1.0\r\nHost: " + older.host() + "\r\n\r\n");
  EXPECT_EQ(older.read_reply().status, 505);
}

TEST(Server, AnUnknownPathIs404AndAWrongMethodSaysWhichThereAre) {
  Running running;
  Client client = running.client();
  EXPECT_EQ(client.get("/api/nix").code(), "no_route");
  EXPECT_EQ(client.get("/api/nix").status, 404);
  const HttpReply reply = client.post("/api/folder", "{}");
  EXPECT_EQ(reply.status, 405);
  EXPECT_EQ(reply.headers.at("Allow"), "GET, HEAD");
  EXPECT_EQ(running.client().ask("PUT", "/", running.client().own_page(), "").status, 405);
}

TEST(Server, HeadIsGetWithoutTheBody) {
  Running running;
  Client client = running.client();
  for (const char* path : {"/", "/api/test/who"}) {
    const HttpReply head = client.ask("HEAD", path, "", ""), get = client.get(path);
    EXPECT_EQ(head.status, 200);
    EXPECT_EQ(head.headers.at("Content-Length"), std::to_string(get.body.size())) << path;
  }
}

TEST(Server, AHandlerThatThrowsIsAProblemOfTheProgramAndTheNextCallIsAnswered) {
  Running running;
  Client client = running.client();
  const HttpReply reply = client.get("/api/test/throws");
  EXPECT_EQ(reply.status, 500);
  EXPECT_EQ(reply.code(), "failed");
  EXPECT_EQ(client.get("/api/test/who").status, 200);
}

TEST(Server, AHeaderWithALineEndIsNotSent) {
  Running running;
  const HttpReply reply = running.client().get("/api/test/header");
  EXPECT_EQ(reply.status, 200);
  EXPECT_EQ(reply.headers.count("Set-Cookie"), 0u);
}

TEST(Server, CallsThatComeTogetherOnOneConnectionAreAnsweredInOrder) {
  Running running;
  Client client = running.client();
  const std::string head = " HTTP/1.1\r\nHost: " + client.host() + "\r\n\r\n";
  client.send("GET /api/test/who" + head + "GET /api/nix" + head + "GET /" + head);
  EXPECT_EQ(client.read_reply().status, 200);
  EXPECT_EQ(client.read_reply().status, 404);
  EXPECT_NE(client.read_reply().body.find("the page"), std::string::npos);
}

TEST(Server, ASlowCallKeepsNobodyWaiting) {
  Running running;
  std::vector<std::unique_ptr<Client>> slow;
  for (int i = 0; i < 10; ++i) {
    slow.push_back(std::make_unique<Client>(running.port()));
    slow.back()->send("GET /api/test/slow HTTP/1.1\r\nHost: " + slow.back()->host() + "\r\n\r\n");
  }
  while (running.slow_calls < 10) std::this_thread::yield();
  EXPECT_EQ(running.client().get("/").status, 200);
  EXPECT_EQ(running.client().get("/api/folder").status, 200);
  EXPECT_EQ(running.slow_calls, 10);
  running.release();
  for (auto& client : slow) EXPECT_EQ(client->read_reply().status, 200);
}

TEST(Server, WhoSendsALetterNowAndThenIsCutOff) {
  ServeOptions options;
  options.request_within = std::chrono::milliseconds(300);
  Running running(options);
  Client head = running.client(), body = running.client(), silent = running.client();
  body.send("POST /api/test/echo HTTP/1.1\r\nHost: " + body.host() + "\r\n" + body.own_page() +
            "Content-Length: 100\r\n\r\n{");
  // Each letter comes well within the time, all of them do not.
  for (char letter : std::string("GET / HTTP/1.1\r\n")) {
    head.send(std::string(1, letter));
    std::this_thread::sleep_for(std::chrono::milliseconds(30));
  }
  for (Client* client : {&head, &body, &silent}) {
    EXPECT_EQ(client->rest(), "");
    EXPECT_TRUE(client->is_closed_by_server());
  }
  EXPECT_EQ(running.client().get("/").status, 200);
}

TEST(Server, AConnectionThatWaitsForItsReplyIsNotCutOff) {
  ServeOptions options;
  options.request_within = std::chrono::milliseconds(100);
  Running running(options);
  Client client = running.client();
  client.send("GET /api/test/slow HTTP/1.1\r\nHost: " + client.host() + "\r\n\r\n");
  std::this_thread::sleep_for(std::chrono::milliseconds(300));
  running.release();
  EXPECT_EQ(client.read_reply().status, 200);
}

TEST(Server, ExpectContinueIsAnsweredBeforeTheBody) {
  Running running;
  Client client = running.client();
  client.send("POST /api/test/echo HTTP/1.1\r\nHost: " + client.host() + "\r\n" + client.own_page() +
              "Content-Length: 2\r\nExpect: 100-continue\r\n\r\n");
  EXPECT_EQ(client.read_through("\r\n\r\n"), "HTTP/1.1 100 Continue\r\n\r\n");
  client.send("{}");
  EXPECT_EQ(client.read_reply().status, 200);
}

TEST(Server, APortThatIsTakenIsOneClearProblem) {
  Running running;
  ServeOptions options;
  options.folder = running.scratch.root() / "folder";
  options.port = running.port();
  const auto second = Server::start(options);
  ASSERT_FALSE(second);
  EXPECT_EQ(second.problem().code, "port_taken");
  EXPECT_NE(second.problem().say.find("--port"), std::string::npos);
}

TEST(Server, WithoutLanNobodyInTheNetworkReachesIt) {
  Running running;
  for (const std::string& address : own_addresses()) EXPECT_FALSE(Client(running.port(), address).connected());
}

// The way in for a phone. Needs an address besides loopback, which a machine without a network lacks.
class FromNetwork : public testing::Test {
 protected:
  void SetUp() override {
    const auto addresses = own_addresses();
    if (addresses.empty()) GTEST_SKIP() << "this machine has no address in a network";
    address_ = addresses.front();
    ServeOptions options;
    options.lan = true;
    running_ = std::make_unique<Running>(options);
  }
  Client phone() const { return Client(running_->port(), address_); }
  std::string address_;
  std::unique_ptr<Running> running_;
};

TEST_F(FromNetwork, ADeviceIsLetInByTheCodeOfTheDesk) {
  EXPECT_EQ(phone().get("/").status, 200);
  EXPECT_EQ(phone().get("/api/pairing/needed").json()["needed"], true);
  for (const char* path : {"/api/folder", "/api/pairing", "/api/jobs/1/events", "/api/test/who"}) {
    const HttpReply reply = phone().get(path);
    EXPECT_EQ(reply.status, 401) << path;
    EXPECT_EQ(reply.code(), "not_paired") << path;
  }
  const auto desk = running_->client().get("/api/pairing").json();
  EXPECT_EQ(desk["addresses"][0], "http://" + address_ + ":" + std::to_string(running_->port()));
  const HttpReply paired = phone().post("/api/pair", json{{"code", desk["code"]}}.dump());
  ASSERT_EQ(paired.status, 200);
  const std::string cookie = paired.headers.at("Set-Cookie");
  for (const char* part : {"; HttpOnly", "; SameSite=Strict", "; Path=/", "; Max-Age=2592000"})
    EXPECT_NE(cookie.find(part), std::string::npos) << part;
  const std::string token = "Cookie: " + cookie.substr(0, cookie.find(';')) + "\r\n";
  EXPECT_EQ(phone().get("/api/test/who", token).json()["desk"], false);
  EXPECT_EQ(phone().get("/api/pairing/needed", token).json()["needed"], false);
  EXPECT_EQ(phone().get("/api/folder", "Cookie: token=" + std::string(64, 'a') + "\r\n").status, 401);
  // The code and the list of devices stay at the desk.
  EXPECT_EQ(phone().get("/api/pairing", token).code(), "only_desk");
  EXPECT_EQ(phone().post("/api/pairing/renew", "{}", token).code(), "only_desk");
  EXPECT_EQ(running_->client().get("/api/pairing").json()["paired"], 1);
}

TEST_F(FromNetwork, WrongCodesAreCounted) {
  for (int i = 1; i < kTriesPerCode; ++i) EXPECT_EQ(phone().post("/api/pair", R"({"code": "x"})").status, 403);
  EXPECT_EQ(phone().post("/api/pair", R"({"code": "x"})").status, 429);
  EXPECT_EQ(phone().post("/api/pair", R"({})").code(), "bad_request");
}

TEST_F(FromNetwork, WhatAnUnpairedDeviceSendsIsNotEvenRead) {
  Client client = phone();
  client.send("POST /api/test/echo HTTP/1.1\r\nHost: " + client.host() + "\r\n" + client.own_page() +
              "Content-Length: 900000\r\n\r\n");
  EXPECT_EQ(client.read_reply().status, 401);  // though not a byte of the body was sent
}

}  // namespace
}  // namespace stickwright
