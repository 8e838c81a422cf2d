/** The least that the packages of a server need: loaded, listening, a database open, and nothing of ours. */
import { createServer } from 'node:http';
import { createServer as createTcpServer } from 'node:net';
import { Aedes } from 'aedes';
import process from 'node:process';
import Database from 'better-sqlite3';
import express from 'express';
import 'mqtt';

const broker = await Aedes.createBroker();
createTcpServer(broker.handle.bind(broker)).listen(0, '127.0.0.1');
const db = new Database(':memory:');
db.exec('CREATE TABLE reading (at INTEGER, value REAL)');
createServer(express()).listen(0, '127.0.0.1', () => {
  process.stdout.write('ready\n');
});
