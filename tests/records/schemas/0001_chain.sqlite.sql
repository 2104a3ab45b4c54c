CREATE TABLE "django_migrations" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "app" varchar(255) NOT NULL, "name" varchar(255) NOT NULL, "applied" datetime NOT NULL);

CREATE TABLE "records_entry" ("seq" integer NOT NULL PRIMARY KEY, "prev" varchar(64) NOT NULL UNIQUE, "kind" varchar(40) NOT NULL, "about" varchar(255) NOT NULL, "body" text NOT NULL, "author" varchar(120) NOT NULL, "at" varchar(20) NOT NULL, "key" varchar(64) NOT NULL, "hash" varchar(64) NOT NULL, "signature" varchar(128) NOT NULL);

CREATE TABLE "records_kept" ("sha256" varchar(64) NOT NULL PRIMARY KEY, "content" BLOB NOT NULL);

CREATE TABLE "records_newest" ("about" varchar(255) NOT NULL PRIMARY KEY, "seq" integer NOT NULL, "signed_seq" integer NOT NULL);

CREATE INDEX "entry_about" ON "records_entry" ("about", "seq");

CREATE INDEX "entry_kind" ON "records_entry" ("kind", "seq");

INSERT INTO django_migrations (app, name, applied) VALUES ('records', '0001_chain', '2026-12-01 00:11:47.751520');

INSERT INTO records_entry (seq, prev, kind, about, body, author, at, key, hash, signature) VALUES (1, '0000000000000000000000000000000000000000000000000000000000000000', 'person', '', '{"box":"b6ea4f16d34d6f1f900523ec2ad95bc34913991bb5dc9a390e4f782125aa1413efbfcfa57ed3f3b84e11026379873677","certificate":"3141592 A&P","name":"B. Inspector","nonce":"03fc2f0c09d8a6dc1191c3dd","public":"eba3e3b32db27bffd1dc094c56f0bae22276afd1a1301a2059fcb737e801e817","role":"inspector","salt":"ea2f335786b8a287fd4eac30485db897"}', 'B. Inspector', '2026-03-09T14:06:00Z', 'eba3e3b32db27bffd1dc094c56f0bae22276afd1a1301a2059fcb737e801e817', '17d3beb2269cacd967a5801a7687a826f6ed0de1c84b87a2df52dae962b8aef2', '577a903e6db7662163c9f646e811cb407b1eb93776c36b46d6ee799a0dc0749133e2442806f967201c9ba06abcc57947720e69d84da9468dd0667cb5951e8903');

INSERT INTO records_entry (seq, prev, kind, about, body, author, at, key, hash, signature) VALUES (2, 'e6cdc6651a0b7998981e4260615b7affd7955d20ae341eeb3c91b74dba81dd60', 'person', '', '{"box":"f12b5a6298e1c9c360497123d61815865b93258e94fc8bf3dbf367b98ee0e128c67687c3b03f704e82972b4329d62f20","certificate":"3141592 A&P","name":"A. Mechanic","nonce":"aaa5a1e85d0d7a15f7f14d55","public":"1fc40a4dce8e0aae946454717166d6024b36fcd965ce3ad8797c20309eaa5634","role":"mechanic","salt":"4215c43e34c81d43469e957392b66b95"}', 'B. Inspector', '2026-03-09T14:07:00Z', 'eba3e3b32db27bffd1dc094c56f0bae22276afd1a1301a2059fcb737e801e817', 'a603a56d8a8b0977791c321d22ada2ff4d623a866109047b5e429f34b7b82c9c', '516ff0bfb4a45441e544ffe773158fc3eab90910f98adffbaa6075474028528ea9e013fd75bf120153524d4717761e967102f418c2732af8d633adfda6be710c');

INSERT INTO records_entry (seq, prev, kind, about, body, author, at, key, hash, signature) VALUES (3, '00b352b4ed7abb8ae349fdde7990ff9ba2b176584470ff54f152e38870a33e59', 'revision', 'älder.toml', '{"n":1,"said":"it''s \"so\""}', 'A. Mechanic', '2026-03-09T14:08:00Z', '', '72645ca09fbb1bf3b8ace236b7de55c9b9252c5dc24f3ed2286fba9959b2bd7e', '');

INSERT INTO records_entry (seq, prev, kind, about, body, author, at, key, hash, signature) VALUES (4, '51310c4fd04c5172549288f59519321f5277f3cd6a163256109e03e2b70f5c38', 'signed', 'älder.toml', '{"papers":[{"sha256":"d66b8d7edc9805a9a7f72a1dd2d8e39a0c1a4a03a35bb1a5b317794b75d61d28"}]}', 'A. Mechanic', '2026-03-09T14:09:00Z', '1fc40a4dce8e0aae946454717166d6024b36fcd965ce3ad8797c20309eaa5634', '7aa6acddf411dc5c0fc036168efcb2a7097ea8489611dcfda70eab56ffd51e9c', 'cb8e4eee1690074f6e495b5059e085798276b904e2305331d879da5493fac02517192913557716aae8f4b5c381eefeb1347806e6925fbaf978a620841914cb06');

INSERT INTO records_kept (sha256, content) VALUES ('d66b8d7edc9805a9a7f72a1dd2d8e39a0c1a4a03a35bb1a5b317794b75d61d28', X'255044462d312e372000ff20612063617264');

INSERT INTO records_newest (about, seq, signed_seq) VALUES ('', 2, 2);

INSERT INTO records_newest (about, seq, signed_seq) VALUES ('älder.toml', 4, 4);

CREATE TRIGGER records_entry_no_update BEFORE UPDATE ON records_entry BEGIN SELECT RAISE(ABORT, 'records are added to and never changed'); END;

CREATE TRIGGER records_entry_no_delete BEFORE DELETE ON records_entry BEGIN SELECT RAISE(ABORT, 'records are added to and never changed'); END;

CREATE TRIGGER records_kept_no_update BEFORE UPDATE ON records_kept BEGIN SELECT RAISE(ABORT, 'records are added to and never changed'); END;

CREATE TRIGGER records_kept_no_delete BEFORE DELETE ON records_kept BEGIN SELECT RAISE(ABORT, 'records are added to and never changed'); END;

-- head 98a2-0226-cef2
