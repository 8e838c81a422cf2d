/**
 * One message in, readings out. Order of trial: our own topics first, because they say what they mean.
 */
import { refused, type Decoded, type Message } from './message.ts';
import { decodeOwnTopic } from './own-topics.ts';

export function decodeMessage(message: Message): Decoded {
  return decodeOwnTopic(message) ?? refused('no mapping understands this topic; make one for it');
}
