import { Audit } from '../settings/audit.tsx';
import { FarmForm } from '../settings/farm-form.tsx';
import { Limits } from '../settings/limits.tsx';
import { Appearance } from '../settings/appearance.tsx';
import { People, Tokens } from '../settings/people.tsx';
import { Health } from '../settings/health.tsx';
import { Server } from '../settings/server.tsx';
import { Sites } from '../settings/sites.tsx';
import { NotificationChannels } from '../settings/notification-channels.tsx';
import { GlossarySection } from '../settings/glossary-section.tsx';
import { You } from '../settings/you.tsx';
import { mayKeep } from '../state/session.ts';

export default function Settings() {
  return (
    <>
      <header class="page-head">
        <h1>Settings</h1>
      </header>
      <div class="settings-page">
        <You />
        <Appearance />
        <Sites />
        {mayKeep.value && <FarmForm />}
        {mayKeep.value && <NotificationChannels />}
        <Limits />
        {mayKeep.value && <People />}
        {mayKeep.value && <Tokens />}
        <Health />
        <Server />
        {mayKeep.value && <Audit />}
        <GlossarySection />
      </div>
    </>
  );
}
