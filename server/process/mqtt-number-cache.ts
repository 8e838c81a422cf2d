/** Turns off the number cache of the MQTT packet writer. Imported before a broker is. */
import mqttPacket from 'mqtt-packet';

// It holds 65,536 ready buffers of two bytes each: 10 MB.
mqttPacket.writeToStream.cacheNumbers = false;
