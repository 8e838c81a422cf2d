/** Keeps what the writer of MQTT packets takes small. Imported before a broker is. */
import mqttPacket from 'mqtt-packet';

// It keeps 65,536 buffers for numbers that two bytes write as well: 10 MB.
mqttPacket.writeToStream.cacheNumbers = false;
